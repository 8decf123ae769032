//! Where chemicals meet that must not: on the surface with no full rinse between them, or on a tool.

use super::steps::{class, folded, sequences};
use crate::catalog::{Catalog, Class, Pair, Reach};
use crate::checks::Context;
use crate::study::{Step, Study, Verb};
use crate::text::Span;
use std::collections::{BTreeMap, BTreeSet};

/// A chemical put on the surface, or a rinse, or both.
#[derive(Debug, Clone, Copy)]
pub(super) struct Act<'a> {
    /// The supply or product; empty where a step uses none.
    pub(super) name: &'a str,
    /// The step, or the name of the product in its definition.
    pub(super) span: Span,
    /// True for a product that goes on after preparation.
    pub(super) is_coat: bool,
    class: Option<&'static Class>,
    tool: Option<&'a str>,
    rinsed: bool,
    wipes: bool,
}

/// Two chemicals that must not meet, and do.
#[derive(Debug, Clone, Copy)]
pub(super) struct Contact<'a> {
    /// What was used first.
    pub(super) earlier: Act<'a>,
    /// What meets it.
    pub(super) later: Act<'a>,
    /// What happens.
    pub(super) pair: &'a Pair,
    /// True where the surface was not fully rinsed between; else the tool carries it.
    pub(super) is_unrinsed: bool,
}

impl Contact<'_> {
    /// True where both were used with one tool.
    pub(super) fn is_on_tool(&self) -> bool {
        self.earlier.tool.is_some() && self.earlier.tool.map(folded) == self.later.tool.map(folded)
    }
}

fn act<'a>(study: &'a Study, step: &'a Step) -> Act<'a> {
    // The kind stands in the head of a supply, so that a line below it that could not be read hides nothing.
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    Act {
        name: supply.map_or("", |supply| supply.name.value.as_str()),
        class: supply.and_then(class),
        tool: step.tool.as_deref(),
        rinsed: step.rinse || step.verb == Verb::Rinse,
        wipes: step.verb == Verb::Wipe,
        span: step.span,
        is_coat: false,
    }
}

/// Every meeting of the study: preparation, coats, rounds, upkeep and tools; those of one step with several coats
/// stand together.
pub(super) fn contacts<'a>(context: &Context<'a>) -> Vec<Contact<'a>> {
    let study = context.study;
    // A line that could not be read may have been the rinse; it is an error already.
    if study.prep_broken || study.rounds_broken {
        return Vec::new();
    }
    let days: Vec<Vec<Act<'_>>> = sequences(study)
        .into_iter()
        .map(|sequence| sequence.steps.into_iter().map(|step| act(study, step)).collect())
        .collect();
    let mut met = Met { catalog: context.catalog, told: BTreeSet::new(), contacts: Vec::new() };
    let left: Vec<Vec<Act<'_>>> = days.iter().map(|day| met.through(Vec::new(), day)).collect();
    for &act in left.first().into_iter().flatten() {
        for coat in coats(study) {
            met.ask(act, coat, true);
        }
    }
    // What a day leaves may meet any later day; only preparation is done once and first.
    let mut stays = Vec::new();
    for act in left.concat().into_iter().filter(|act| !dries_off(act)) {
        keep(&mut stays, act);
    }
    for day in days.iter().skip(1) {
        met.through(stays.clone(), day);
    }
    // Patches lie side by side, and each cycle begins on what the one before it left.
    let cycle = study.cycle.iter().filter(|cycle| !cycle.broken).flat_map(|cycle| &cycle.steps);
    let cycle: Vec<Act<'_>> = cycle.map(|step| act(study, step)).collect();
    let left = met.through(stays, &cycle);
    met.through(left, &cycle);
    met.on_tools(&[days.concat(), cycle].concat());
    met.contacts
}

/// Puts an act among others. Of each class the latest stands for all, so that many steps stay cheap.
fn keep<'a>(acts: &mut Vec<Act<'a>>, act: Act<'a>) {
    if let Some(class) = act.class {
        acts.retain(|other| other.class.is_none_or(|other| other.id != class.id));
        acts.push(act);
    }
}

fn coats(study: &Study) -> impl Iterator<Item = Act<'_>> {
    study.products.iter().map(|product| Act {
        name: &product.name.value,
        class: product.kind.as_ref().and_then(|kind| kind.class),
        tool: None,
        rinsed: false,
        wipes: false,
        span: product.name.span,
        is_coat: true,
    })
}

/// Flammable solvents are gone and a film of polish has dried by the next working day; salts, acids and bleach stay.
fn dries_off(act: &Act<'_>) -> bool {
    act.class.is_none_or(|class| class.is_in("flammable")) || is_film(act)
}

/// What a polish leaves: oils without a solvent that could evaporate.
fn is_film(act: &Act<'_>) -> bool {
    act.class.is_some_and(|class| class.is_in("hydrocarbon") && !class.is_in("flammable"))
}

/// The meetings that were found, each once.
struct Met<'a> {
    catalog: &'a Catalog,
    /// By place and name, since one line of a cycle is a step for each marker and cleaner.
    told: BTreeSet<[(Span, &'a str); 2]>,
    contacts: Vec<Contact<'a>>,
}

impl<'a> Met<'a> {
    /// Goes through a day's acts on a surface that carries something; returns what it carries in the end.
    fn through(&mut self, mut on_surface: Vec<Act<'a>>, day: &[Act<'a>]) -> Vec<Act<'a>> {
        for &act in day {
            for &earlier in &on_surface {
                self.ask(earlier, act, true);
            }
            if act.rinsed {
                on_surface.clear();
            } else {
                // A wipe takes off the film of a polish, and no salt, acid or bleach.
                on_surface.retain(|earlier| !(act.wipes && is_film(earlier)));
                keep(&mut on_surface, act);
            }
        }
        on_surface
    }

    /// A rinse of the panel does not rinse the tool.
    fn on_tools(&mut self, acts: &[Act<'a>]) {
        let mut on_tool: BTreeMap<String, Vec<Act<'a>>> = BTreeMap::new();
        for &act in acts {
            let Some(tool) = act.tool else { continue };
            let earlier = on_tool.entry(folded(tool)).or_default();
            for &before in earlier.iter() {
                self.ask(before, act, false);
            }
            keep(earlier, act);
        }
    }

    fn ask(&mut self, earlier: Act<'a>, later: Act<'a>, is_unrinsed: bool) {
        let Some((one, other)) = earlier.class.zip(later.class) else { return };
        let mut both = [(earlier.span, earlier.name), (later.span, later.name)];
        both.sort_unstable();
        if let Some(pair) = self.catalog.meet_in(Reach::Any, one, other).filter(|_| self.told.insert(both)) {
            self.contacts.push(Contact { earlier, later, pair, is_unrinsed });
        }
    }
}

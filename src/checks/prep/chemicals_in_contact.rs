//! Chemicals that meet on the panel or on a tool with no full rinse between them.

use super::steps::{class, folded, sequences};
use crate::catalog::{Catalog, Class, Danger, Pair, Reach};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Study, Verb};
use crate::text::Span;
use std::collections::{BTreeMap, BTreeSet};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "chemicals-in-contact",
        severity: Severity::Error,
        what: "Two chemicals that must not meet are used on the same surface, or with the same tool, with no full rinse between them, however many steps lie between.",
        why: "Some pairs make toxic gas, fire or burns. Those stay errors in spite of a waiver and stay on the papers.",
        mend: "Put a `rinse` between the two steps, use a tool for each, or leave one of the chemicals out.",
        bad: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min
    dry
    decontaminate with lime-off  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    dry
    decontaminate with lime-off  for 1 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "CLP Regulation (EC) 1272/2008, Annex II, EUH031 and EUH206",
    },
    run,
};

/// A chemical put on the surface, or a rinse, or both.
#[derive(Clone, Copy)]
struct Act<'a> {
    name: &'a str,
    class: Option<&'static Class>,
    tool: Option<&'a str>,
    rinsed: bool,
    span: Span,
}

fn act<'a>(study: &'a Study, step: &'a Step) -> Act<'a> {
    // The kind stands in the head of a supply, so that a line below it that could not be read hides nothing.
    let supply = step.with.as_ref().map(|with| study.supply(with.value));
    Act {
        name: supply.map_or("", |supply| supply.name.value.as_str()),
        class: supply.and_then(class),
        tool: step.tool.as_deref(),
        rinsed: step.rinse || step.verb == Verb::Rinse,
        span: step.span,
    }
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // A line that could not be read may have been the rinse; it is an error already.
    if study.prep_broken || study.rounds_broken {
        return;
    }
    let days: Vec<Vec<Act<'_>>> = sequences(study)
        .into_iter()
        .map(|sequence| sequence.steps.into_iter().map(|step| act(study, step)).collect())
        .collect();
    let mut met = Met { catalog: context.catalog, told: BTreeSet::new(), pairs: Vec::new() };
    let left: Vec<Vec<Act<'_>>> = days.iter().map(|day| met.through(Vec::new(), day)).collect();
    for coat in coats(study) {
        met.through(left.first().cloned().unwrap_or_default(), &[coat]);
    }
    // What a day leaves may meet any later day; only preparation is done once and first.
    let mut stays = Vec::new();
    for act in left.concat().into_iter().filter(|act| !evaporates(act)) {
        keep(&mut stays, act);
    }
    for day in days.iter().skip(1) {
        met.through(stays.clone(), day);
    }
    met.on_tools(&days.concat());
    findings.extend(met.pairs.into_iter().map(|(earlier, later, pair)| finding(earlier, later, pair)));
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
        span: product.name.span,
    })
}

/// Flammable solvents are gone by the next working day; salts, acids and bleach are not.
fn evaporates(act: &Act<'_>) -> bool {
    act.class.is_none_or(|class| class.is_in("flammable"))
}

/// The meetings that were found, each once.
struct Met<'a> {
    catalog: &'a Catalog,
    told: BTreeSet<(Span, Span)>,
    pairs: Vec<(Act<'a>, Act<'a>, &'a Pair)>,
}

impl<'a> Met<'a> {
    /// Goes through a day's acts on a surface that carries something; returns what it carries in the end.
    fn through(&mut self, mut on_surface: Vec<Act<'a>>, day: &[Act<'a>]) -> Vec<Act<'a>> {
        for &act in day {
            for &earlier in &on_surface {
                self.ask(earlier, act);
            }
            if act.rinsed {
                on_surface.clear();
            } else {
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
                self.ask(before, act);
            }
            keep(earlier, act);
        }
    }

    fn ask(&mut self, earlier: Act<'a>, later: Act<'a>) {
        let Some((one, other)) = earlier.class.zip(later.class) else { return };
        let spans = (earlier.span.min(later.span), earlier.span.max(later.span));
        if let Some(pair) = self.catalog.meet_in(Reach::Any, one, other).filter(|_| self.told.insert(spans)) {
            self.pairs.push((earlier, later, pair));
        }
    }
}

fn finding(earlier: Act<'_>, later: Act<'_>, pair: &Pair) -> Finding {
    let on_tool = earlier.tool.is_some() && earlier.tool == later.tool;
    let (how, help) = if on_tool {
        ("on the same tool", "use a tool of its own for each, and a full `rinse` of the panel between them")
    } else {
        ("with no full rinse between", "put a `rinse` between the two, or leave one of them out")
    };
    let message = format!("`{}` meets `{}` {how}", later.name, earlier.name);
    let finding = match pair.severity {
        Danger::Forbid => Finding::error(CHECK.page.code, later.span, message).binding(),
        Danger::Spoil => Finding::warning(CHECK.page.code, later.span, message),
    };
    finding
        .label(pair.result.trim_end_matches('.'))
        .related(earlier.span, format!("`{}` is used here", earlier.name))
        .help(help)
        .about(later.name)
        .about(earlier.name)
}

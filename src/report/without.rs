//! Who has no number to compare at a round, and why: not read is one reason among several.

use super::asked::Place;
use super::material::Material;
use super::names;
use super::numbers::{Style, with_unit};
use crate::analysis::{Compared, GroupSeries, MeasureAnalysis, Missing};
use crate::speech::{list, say};
use crate::study::{ProductId, SectionId, Treatment};

/// `Bay spray (no reading at fresh) and Rue spray (section ended)`, of those treatments among `of` that the round of the question has no
/// number of; those with the same reasons stand together. Empty where each has one.
pub(super) fn reasons(material: &Material<'_>, at: Place<'_>, of: impl Fn(Treatment) -> bool) -> String {
    let Some(measure) = material.analysis.measure(at.question.measure) else { return String::new() };
    let mut together: Vec<(String, Vec<String>)> = Vec::new();
    for group in measure.groups.iter().filter(|group| of(group.treatment)) {
        let Some(why) = why(at, measure, group) else { continue };
        let name = names::treatment(at.study, group.treatment);
        match together.iter_mut().find(|(known, _)| *known == why) {
            Some((_, names)) => names.push(name),
            None => together.push((why, vec![name])),
        }
    }
    let words = together.iter().map(|(why, names)| format!("{} ({why})", list(names, "and")));
    list(&words.collect::<Vec<_>>(), "and")
}

/// The same of products alone, without one of them.
pub(super) fn of_products(material: &Material<'_>, at: Place<'_>) -> String {
    reasons(material, at, |treatment| matches!(treatment, Treatment::Product(_)))
}

/// The same of these products.
pub(super) fn of_these(material: &Material<'_>, at: Place<'_>, ids: &[ProductId]) -> String {
    reasons(material, at, |treatment| matches!(treatment, Treatment::Product(id) if ids.contains(&id)))
}

/// The reasons of all sections of a treatment, each once; `None` where one of them has the number.
fn why(at: Place<'_>, measure: &MeasureAnalysis, group: &GroupSeries) -> Option<String> {
    let here = group.at.iter().find(|here| here.round == at.question.round)?;
    let changes = measure.compared == Compared::Change;
    if (if changes { here.change } else { here.level }).is_some() {
        return None;
    }
    let lacking = here.lacking.iter().chain(here.lacking_change.iter().filter(|_| changes));
    let mut whys: Vec<String> = Vec::new();
    for why in lacking.map(|&(_, why)| reason(at, measure, why)) {
        if !whys.contains(&why) {
            whys.push(why);
        }
    }
    (!whys.is_empty()).then(|| whys.join(", "))
}

fn reason(at: Place<'_>, measure: &MeasureAnalysis, why: Missing) -> String {
    match (why, measure.reference) {
        (Missing::NoReference, Some(reference)) => {
            say!("no reading at {round}", round = names::round(at.study, reference))
        }
        (Missing::ReferenceBelow, Some(reference)) => {
            say!("below what the gauge can tell at {round}", round = names::round(at.study, reference))
        }
        _ => names::missing(why).to_owned(),
    }
}

/// What was read at the round though no change can be made of it, since readings there or at the reference lie below the gauge: the lowest
/// and the highest section of each treatment. `None` where nothing lies below it.
pub(super) fn levels(material: &Material<'_>, at: Place<'_>) -> Option<String> {
    let (study, id) = (at.study, at.question.measure);
    let style = Style::of(material, id);
    let mut any = false;
    let mut told = Vec::new();
    for group in &material.analysis.measure(id)?.groups {
        let here = group.at.iter().find(|here| here.round == at.question.round)?;
        let of = |all: &[(SectionId, Missing)], why| all.iter().filter(|(_, own)| *own == why).count();
        let below = of(&here.lacking, Missing::BelowGauge);
        any |= below > 0 || of(&here.lacking_change, Missing::ReferenceBelow) > 0;
        let name = names::treatment(study, group.treatment);
        let units = names::units(study, id, below);
        told.push(match (here.level, below) {
            (None, 0) => continue,
            (None, _) => say!("{name} below what the gauge can tell on {units}", name, units),
            (Some(level), _) => {
                let (low, high) = (style.bare(level.min), with_unit(&style.bare(level.max), style.unit));
                let n = names::units(study, id, level.n);
                let read = if level.n == 1 {
                    say!("{name} {level} ({units})", name, level = high, units = n)
                } else {
                    say!("{name} {low} to {high} ({units})", name, low, high, units = n)
                };
                if below == 0 {
                    read
                } else {
                    say!("{read}, and below what the gauge can tell on {units}", read, units)
                }
            }
        });
    }
    (any && !told.is_empty()).then(|| {
        say!(
            "What was read at {round}, from the lowest to the highest of each: {told}. These are levels; nothing is subtracted from them and no \
             test stands behind them.",
            round = names::round(study, at.question.round),
            told = told.join("; ")
        )
    })
}

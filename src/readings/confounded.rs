//! A person, a gauge or a hand that goes with a treatment, so that what it adds cannot be told from what the treatment does.

use super::Readings;
use crate::study::{
    DoneWhat, MeasureId, MeasureKind, ProductId, Reference, RoundId, SectionId, Study, Treatment,
};
use std::collections::{BTreeMap, BTreeSet};

/// What goes with treatments.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum GoesWith {
    /// Who read.
    Reader,
    /// The gauge that was read with.
    Gauge,
    /// Who put the products on.
    Hand,
}

/// One person or gauge that took all of some treatments and nothing of others.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Confounded {
    /// What it is.
    pub what: GoesWith,
    /// Its name.
    pub name: String,
    /// Treatments of which every section has it.
    pub all_of: Vec<Treatment>,
    /// Treatments of which no section has it.
    pub none_of: Vec<Treatment>,
}

pub(super) type Names = BTreeSet<String>;

/// What goes with treatments in a measure at a round.
///
/// What stood on the same sections at the round that changes are counted from cancels in them, and is left out.
pub fn confounded(study: &Study, readings: &Readings, measure: MeasureId, round: RoundId) -> Vec<Confounded> {
    let reference = reference(study, measure);
    let on = |round: RoundId, gauges: bool| by_section(study, readings, measure, round, gauges);
    let mut found = Vec::new();
    for (what, gauges) in [(GoesWith::Reader, false), (GoesWith::Gauge, true)] {
        let (now, then) = (on(round, gauges), reference.map(|reference| on(reference, gauges)));
        let unnamed = now.values().any(BTreeSet::is_empty);
        if !unnamed && then.is_none_or(|then| then != now) {
            found.extend(alone(study, what, &now));
        }
    }
    found.extend(alone(study, GoesWith::Hand, &applied(study)));
    found
}

/// The round that changes of a measure are counted from.
pub(super) fn reference(study: &Study, measure: MeasureId) -> Option<RoundId> {
    study.round_named(match study.measure(measure).change_from {
        Reference::Baseline => "baseline",
        Reference::Fresh => "fresh",
    })
}

/// Who read each section at a round, or with which gauges.
pub(super) fn by_section(
    study: &Study,
    readings: &Readings,
    measure: MeasureId,
    round: RoundId,
    gauges: bool,
) -> BTreeMap<SectionId, Names> {
    let parts = match &study.measure(measure).kind {
        MeasureKind::Made(made) => made.parts.clone(),
        _ => vec![measure],
    };
    let mut all: BTreeMap<SectionId, Names> = BTreeMap::new();
    let cells = readings.cells().iter().filter(|cell| cell.round == round && parts.contains(&cell.measure));
    for cell in cells.filter(|cell| cell.kept.n > 0) {
        let names = if gauges { readings.gauges(cell) } else { readings.read_by(cell) };
        let names = names.into_iter().map(str::to_owned);
        all.entry(cell.section).or_default().extend(names);
    }
    all
}

/// Who put something on each section, where every coat that is recorded says who.
fn applied(study: &Study) -> BTreeMap<SectionId, Names> {
    let mut all: BTreeMap<SectionId, Names> = BTreeMap::new();
    for done in &study.done {
        let DoneWhat::Coat(_, product) = &done.what else { continue };
        let own: Vec<SectionId> =
            study.sections_of(Treatment::Product(product.value)).map(|(id, _)| id).collect();
        let sections = if done.sections.is_empty() { &own } else { &done.sections };
        for &section in sections {
            all.entry(section).or_default().extend(done.by.clone());
        }
    }
    if all.values().any(BTreeSet::is_empty) { BTreeMap::new() } else { all }
}

fn alone(study: &Study, what: GoesWith, on: &BTreeMap<SectionId, Names>) -> Vec<Confounded> {
    let mut of: BTreeMap<Treatment, Vec<&Names>> = BTreeMap::new();
    for (&section, names) in on {
        of.entry(study.section(section).treatment).or_default().push(names);
    }
    let names: BTreeSet<&String> = on.values().flatten().collect();
    let found = names.into_iter().map(|name| {
        let which = |wanted: bool| -> Vec<Treatment> {
            let own = of.iter().filter(|(_, all)| all.iter().all(|names| names.contains(name) == wanted));
            own.map(|(&treatment, _)| treatment).collect()
        };
        Confounded { what, name: name.clone(), all_of: which(true), none_of: which(false) }
    });
    let compared = |one: &Confounded| {
        let product = |treatment: &Treatment| matches!(treatment, Treatment::Product(_));
        !one.all_of.is_empty()
            && !one.none_of.is_empty()
            && one.all_of.iter().chain(&one.none_of).any(product)
    };
    let mut found: Vec<Confounded> = found.filter(compared).collect();
    // Of two that share the treatments among them, one tells what the other would.
    if let [first, second] = found.as_slice()
        && (&first.all_of, &first.none_of) == (&second.none_of, &second.all_of)
    {
        let fewer = usize::from(second.all_of.len() < first.all_of.len());
        found.swap(0, fewer);
        found.truncate(1);
    }
    found
}

impl Confounded {
    /// The products among some treatments.
    pub fn products(all: &[Treatment]) -> Vec<ProductId> {
        let product = |treatment: &Treatment| match treatment {
            Treatment::Product(id) => Some(*id),
            _ => None,
        };
        all.iter().filter_map(product).collect()
    }
}

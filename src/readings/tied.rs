//! Products that nobody, or no gauge, read beside the others they are held against, so that leading may be that of who read.

use super::Readings;
use super::confounded::{GoesWith, Names, by_section, reference};
use crate::study::{MeasureId, ProductId, RoundId, SectionId, Study, Treatment};
use std::collections::{BTreeMap, BTreeSet};

/// Products whose sections were not read as any section of the others was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tied {
    /// A person, or a gauge.
    pub what: GoesWith,
    /// The products.
    pub products: Vec<ProductId>,
    /// The round at which they were read by others than the other products: that which is compared, or its reference.
    pub round: RoundId,
    /// Who read them and no other product, by name; empty where each of them read others as well.
    pub names: Vec<String>,
    /// Whether they read nothing else at all, bare or other.
    pub nothing_else: bool,
    /// Sections that were read so.
    pub sections: usize,
    /// Of how many.
    pub of: usize,
}

impl Tied {
    /// Whether no section of the products was read as one of the others was.
    pub fn whole(&self) -> bool {
        self.sections == self.of
    }
}

/// How a section was read: by whom at the round and not at the reference, and the other way round. What stands in both cancels in a change.
type Hands = (Names, Names);

/// What ties `leaders` to who read them, among the products that are compared with each other: all of them together, else each by itself.
pub fn tied(
    (study, readings): (&Study, &Readings),
    (measure, round): (MeasureId, RoundId),
    compared: &[ProductId],
    leaders: &[ProductId],
) -> Vec<Tied> {
    let from = reference(study, measure).filter(|&from| from != round);
    let mut found = Vec::new();
    for (what, gauges) in [(GoesWith::Reader, false), (GoesWith::Gauge, true)] {
        let on = |round: RoundId| by_section(study, readings, measure, round, gauges);
        let (now, then) = (on(round), from.map(on).unwrap_or_default());
        let unnamed = |on: &BTreeMap<SectionId, Names>| {
            let of_compared = |section| product(study, section).is_some_and(|id| compared.contains(&id));
            on.iter().any(|(&section, names)| of_compared(section) && names.is_empty())
        };
        if unnamed(&now) {
            continue;
        }
        // Without names at the reference nobody is known to have changed since.
        let then = if unnamed(&then) { BTreeMap::new() } else { then };
        let rounds = Rounds { study, now, then, round, from };
        let together = rounds.tie(what, compared, leaders).filter(Tied::whole);
        match together {
            Some(tied) => found.push(tied),
            None => found.extend(leaders.iter().filter_map(|&id| rounds.tie(what, compared, &[id]))),
        }
    }
    found
}

fn product(study: &Study, section: SectionId) -> Option<ProductId> {
    match study.section(section).treatment {
        Treatment::Product(id) => Some(id),
        _ => None,
    }
}

/// Who read at the round, and at its reference.
struct Rounds<'s> {
    study: &'s Study,
    now: BTreeMap<SectionId, Names>,
    then: BTreeMap<SectionId, Names>,
    round: RoundId,
    from: Option<RoundId>,
}

impl Rounds<'_> {
    fn tie(&self, what: GoesWith, compared: &[ProductId], own: &[ProductId]) -> Option<Tied> {
        let (mut of_own, mut of_others): (Vec<SectionId>, Vec<SectionId>) = (Vec::new(), Vec::new());
        for &section in self.now.keys() {
            match product(self.study, section) {
                Some(id) if own.contains(&id) => of_own.push(section),
                Some(id) if compared.contains(&id) => of_others.push(section),
                _ => {}
            }
        }
        let others: BTreeSet<Hands> = of_others.iter().map(|&section| self.hands(section)).collect();
        let apart: Vec<SectionId> =
            of_own.iter().copied().filter(|&section| !others.contains(&self.hands(section))).collect();
        if apart.is_empty() || of_others.is_empty() {
            return None;
        }
        let alone = |on: &BTreeMap<SectionId, Names>| -> Vec<String> {
            let of = |sections: &[SectionId]| -> Names {
                sections.iter().filter_map(|section| on.get(section)).flatten().cloned().collect()
            };
            of(&apart).difference(&of(&of_others)).cloned().collect()
        };
        let (now, then) = (alone(&self.now), alone(&self.then));
        let (round, names) = match self.from {
            Some(from) if now.is_empty() && !then.is_empty() => (from, then),
            _ => (self.round, now),
        };
        // One who shared some sections with others and none alone: the share of it in the mean is not known.
        if names.is_empty() && apart.len() < of_own.len() {
            return None;
        }
        let on = if Some(round) == self.from { &self.then } else { &self.now };
        let others = on.iter().filter(|(section, _)| !of_own.contains(section));
        let nothing_else = others.flat_map(|(_, read)| read).all(|read| !names.contains(read));
        let (sections, of) = (apart.len(), of_own.len());
        Some(Tied { what, products: own.to_vec(), round, names, nothing_else, sections, of })
    }

    fn hands(&self, section: SectionId) -> Hands {
        let of = |on: &BTreeMap<SectionId, Names>| on.get(&section).cloned().unwrap_or_default();
        let (now, then) = (of(&self.now), of(&self.then));
        let less = |a: &Names, b: &Names| a.difference(b).cloned().collect();
        (less(&now, &then), less(&then, &now))
    }
}

//! What a comparison takes as its unit, where specimens were cut from pieces: decided by the layout, never by readings.

use super::{Grouping, MeasureId, SectionId, Study, Treatment};
use std::collections::{BTreeMap, BTreeSet};

/// The unit of a comparison.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Unit<'s> {
    /// Each section by itself.
    Section,
    /// Each piece, by the mean of its sections: every piece carries one treatment only.
    Piece(&'s Grouping),
    /// Each section against the others of its piece: every piece carries every treatment, each equally often.
    Within(&'s Grouping),
    /// The same by least squares: pieces carry treatments unevenly, and yet link all of them with each other.
    Linked(&'s Grouping),
}

/// Degrees of freedom that a comparison within uneven pieces must leave.
const LEAST_DEGREES: usize = 3;

/// How pieces and treatments lie to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Laid {
    Whole,
    Even,
    Linked,
    Neither,
}

impl Study {
    /// The unit in which a measure is compared.
    pub fn unit(&self, measure: MeasureId) -> Unit<'_> {
        if self.measure(measure).home.is_none() { self.unit_on_panel() } else { Unit::Section }
    }

    /// The unit in which what is read on the panel is compared. Pieces count where all its sections were cut from pieces
    /// of one kind, some of them from the same piece. Without such pieces products are compared within sites where these allow it;
    /// a site is never a unit, since it may differ from another by more than the sections of one.
    pub fn unit_on_panel(&self) -> Unit<'_> {
        let grouping = match self.groups.as_slice() {
            [] => return self.unit_at_sites(),
            [grouping] => grouping,
            _ => return Unit::Section,
        };
        match self.laid(grouping) {
            Laid::Whole => Unit::Piece(grouping),
            Laid::Even => Unit::Within(grouping),
            Laid::Linked => Unit::Linked(grouping),
            Laid::Neither => Unit::Section,
        }
    }

    fn unit_at_sites(&self) -> Unit<'_> {
        match self.by_site.as_ref().map(|sites| (sites, self.laid(sites))) {
            Some((sites, Laid::Even)) => Unit::Within(sites),
            Some((sites, Laid::Linked)) => Unit::Linked(sites),
            Some((_, Laid::Whole | Laid::Neither)) | None => Unit::Section,
        }
    }

    /// Whether differences between products hold what differs between sites: these carry products unevenly, and link too few of
    /// them to take it out.
    pub fn sites_are_in_the_differences(&self) -> bool {
        let sites = self.by_site.as_ref().filter(|_| self.unit_on_panel() == Unit::Section);
        sites.is_some_and(|sites| matches!(self.laid(sites), Laid::Whole | Laid::Neither))
    }

    /// Whether pieces that products are compared within stand at several sites each, so that sites are taken out beside them.
    pub fn pieces_cross_sites(&self) -> bool {
        let Some(sites) = self.by_site.as_ref() else { return false };
        let (Unit::Within(grouping) | Unit::Linked(grouping)) = self.unit_on_panel() else { return false };
        let at = |sections: &[SectionId]| {
            let sites =
                sites.pieces().into_iter().filter(|(_, of)| of.iter().any(|one| sections.contains(one)));
            sites.count()
        };
        grouping != sites && grouping.pieces().iter().any(|(_, sections)| at(sections) > 1)
    }

    /// Whether differences on the panel are averages over its sites, judged by how sections of one treatment at one site scatter: every
    /// treatment lies at each site twice or more, with degrees of freedom left. Pieces that products are compared within have to carry
    /// all of them equally often, and to stand at one site each.
    pub fn averages_over_sites(&self) -> bool {
        let Some(sites) = self.by_site.as_ref() else { return false };
        let (Unit::Within(grouping) | Unit::Linked(grouping)) = self.unit_on_panel() else { return false };
        let own = grouping == sites;
        if !own && (!matches!(self.unit_on_panel(), Unit::Within(_)) || self.pieces_cross_sites()) {
            return false;
        }
        let carried: Vec<BTreeMap<Treatment, usize>> =
            sites.pieces().iter().map(|(_, sections)| self.carried(sections)).collect();
        let Some(first) = carried.first() else { return false };
        let twice =
            |at: &BTreeMap<Treatment, usize>| at.keys().eq(first.keys()) && at.values().all(|&n| n > 1);
        let sections: usize = carried.iter().flat_map(|at| at.values()).sum();
        let pieces = if own { 0 } else { grouping.pieces().len().saturating_sub(carried.len()) };
        let all = sections == self.sections.len() && carried.iter().all(twice);
        all && sections >= first.len() * carried.len() + pieces + LEAST_DEGREES
    }

    /// How many units of the panel carry a treatment: sections, or pieces where these are the unit.
    pub fn units_of(&self, treatment: Treatment) -> usize {
        let carries = |section: &&SectionId| self.section(**section).treatment == treatment;
        match self.unit_on_panel() {
            Unit::Piece(grouping) => {
                let pieces = grouping.pieces();
                pieces.iter().filter(|(_, sections)| sections.iter().any(|one| carries(&one))).count()
            }
            Unit::Section | Unit::Within(_) | Unit::Linked(_) => self.sections_of(treatment).count(),
        }
    }

    /// The grouping of the panel whose pieces share sections and carry products unevenly, so that they are neither the unit
    /// nor compared within.
    pub fn uneven_pieces(&self) -> Option<&Grouping> {
        let [grouping] = self.groups.as_slice() else { return None };
        let pieces = grouping.pieces();
        let shared = pieces.len() > 1 && pieces.iter().any(|(_, sections)| sections.len() > 1);
        let sound = !grouping.broken && !self.map_broken && shared;
        (sound && matches!(self.laid(grouping), Laid::Neither)).then_some(grouping)
    }

    fn laid(&self, grouping: &Grouping) -> Laid {
        let pieces = grouping.pieces();
        let cut = pieces.iter().map(|(_, sections)| sections.len()).sum::<usize>();
        let shared = pieces.iter().any(|(_, sections)| sections.len() > 1);
        if grouping.broken || self.map_broken || cut != self.sections.len() || pieces.len() < 2 || !shared {
            return Laid::Neither;
        }
        let carried: Vec<BTreeMap<Treatment, usize>> =
            pieces.iter().map(|(_, sections)| self.carried(sections)).collect();
        if carried.iter().any(|own| own.keys().any(|treatment| !treatment.is_settled())) {
            Laid::Neither
        } else if carried.iter().all(|own| own.len() == 1) {
            Laid::Whole
        } else if carried.iter().all(|own| *own == carried[0]) {
            Laid::Even
        } else if Self::link_all(&carried, cut) {
            Laid::Linked
        } else {
            Laid::Neither
        }
    }

    /// Whether pieces that carry several treatments link all of them, with degrees of freedom left beside treatments and pieces.
    fn link_all(carried: &[BTreeMap<Treatment, usize>], sections: usize) -> bool {
        let all: BTreeSet<Treatment> = carried.iter().flat_map(|own| own.keys().copied()).collect();
        let mut linked: BTreeSet<Treatment> = all.iter().copied().take(1).collect();
        for _ in 0..all.len() {
            let meets = |own: &&BTreeMap<Treatment, usize>| own.keys().any(|one| linked.contains(one));
            let met: Vec<Treatment> =
                carried.iter().filter(meets).flat_map(|own| own.keys().copied()).collect();
            linked.extend(met);
        }
        linked.len() == all.len() && sections + 1 >= all.len() + carried.len() + LEAST_DEGREES
    }

    /// How many sections of each treatment are among some.
    pub fn carried(&self, sections: &[SectionId]) -> BTreeMap<Treatment, usize> {
        let mut carried = BTreeMap::new();
        for &section in sections {
            *carried.entry(self.section(section).treatment).or_default() += 1;
        }
        carried
    }
}

//! Patches in each specimen, and the cycle of marking and cleaning that they go through.

use super::{
    MeasureId, MeasureKind, Outline, RoundId, Scale, SectionId, Specimens, SpentRule, Step, Study, SupplyId,
};
use crate::text::Span;
use crate::units::{Length, Quantity};

/// Patches drawn in each specimen.
#[derive(Debug, Clone, PartialEq)]
pub struct Patches {
    /// Width and height of a patch.
    pub size: (Quantity<Length>, Quantity<Length>),
    /// The drawn patches, row by row.
    pub drawn: Vec<Patch>,
    /// Reasons why something is never used on a product, as sentences.
    pub never: Vec<String>,
    /// Place of the head.
    pub span: Span,
}

/// A drawn patch.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Its name, `a1` and so on.
    pub code: String,
    /// The words that stand there.
    pub word: String,
    /// Its shape, mm from the top left corner of the specimen.
    pub outline: Outline,
}

/// What treats a patch in each cycle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Treated {
    /// The marker.
    pub marker: SupplyId,
    /// What it is cleaned with.
    pub cleaner: SupplyId,
}

/// The cycle: steps that are done again and again, each time with a round of readings.
#[derive(Debug, Clone, PartialEq)]
pub struct Cycle {
    /// How often at most.
    pub most: u32,
    /// Its steps in order; marking and cleaning once for each marker and cleaner.
    pub steps: Vec<Step>,
    /// When a patch is marked and read no more.
    pub stop: Option<Stop>,
    /// Its rounds, `cycle 1` and so on.
    pub rounds: Vec<RoundId>,
    /// Place of the head.
    pub span: Span,
    /// True where a line of it could not be taken.
    pub broken: bool,
}

/// When a patch is stopped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// The measure as the study names it, before it is told apart by patches.
    pub measure: MeasureId,
    /// From which value on; a limit of a section's own reference is no rule for a patch.
    pub rule: SpentRule,
}

impl Study {
    /// The loose specimens that a measure is read on, which are no part of the panel; patches lie on what the map draws.
    pub fn loose(&self, measure: MeasureId) -> Option<&Specimens> {
        let home = self.specimens.get(self.measure(measure).home?.index())?;
        (!home.patch).then_some(home)
    }

    /// The measure that a row or a line means on a section: on a patch, that of its marker and cleaner.
    pub fn measure_at(&self, measure: MeasureId, section: SectionId) -> MeasureId {
        let home = self.section(section).specimen;
        if home.is_none() || self.measure(measure).home == home {
            return measure;
        }
        let mut own = self.measures_with_ids().filter(|(_, one)| one.of == Some(measure) && one.home == home);
        own.next().map_or(measure, |(id, _)| id)
    }

    /// The steps of the cycle, if there is one.
    pub fn cycle_steps(&self) -> impl Iterator<Item = &Step> {
        self.cycle.iter().flat_map(|cycle| &cycle.steps)
    }

    /// The scale of the marks by which a patch is stopped, where it is stopped by marks. The file's own measure stands for those of
    /// each marker and cleaner.
    pub fn stop_scale(&self, stop: Stop) -> Option<&Scale> {
        let mut measure = self.measure(stop.measure);
        if let MeasureKind::Part(of) = measure.kind {
            measure = self.measure(of);
        }
        if let MeasureKind::Rating(scale) = &measure.kind { Some(scale) } else { None }
    }

    /// Which cycle a round is, from 1.
    pub fn cycle_of(&self, round: RoundId) -> Option<usize> {
        self.cycle.as_ref()?.rounds.iter().position(|known| *known == round).map(|at| at + 1)
    }
}

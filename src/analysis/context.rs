//! What every part of the analysis looks up: the study, its readings, and which rounds were read.

use super::model::RoundState;
use crate::readings::{Cell, Readings};
use crate::study::{MeasureId, RoundId, SectionId, Study};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The inputs of an analysis.
pub(super) struct Context<'a> {
    pub(super) study: &'a Study,
    pub(super) readings: &'a Readings,
    as_of: Date,
    /// Every round by date; rounds without one stand last, in the order of the file.
    order: Vec<RoundId>,
    /// What was read: a number, or less than the gauge can tell.
    read: BTreeSet<(RoundId, MeasureId)>,
}

impl<'a> Context<'a> {
    pub(super) fn new(study: &'a Study, readings: &'a Readings, as_of: Date) -> Self {
        let mut order: Vec<RoundId> = study.rounds_with_ids().map(|(id, _)| id).collect();
        order.sort_by_key(|&id| (study.round(id).date().is_none(), study.round(id).date(), id));
        let known = readings.cells().iter().filter(|cell| is_known(cell, as_of));
        let read = known.filter(|cell| cell.all.n + cell.below_gauge > 0);
        let read = read.map(|cell| (cell.round, cell.measure)).collect();
        Self { study, readings, as_of, order, read }
    }

    pub(super) fn cell(&self, measure: MeasureId, round: RoundId, section: SectionId) -> Option<&'a Cell> {
        self.readings.cell(section, round, measure).filter(|cell| is_known(cell, self.as_of))
    }

    /// The cells that had been read by the day of the analysis.
    pub(super) fn cells(&self) -> impl Iterator<Item = &'a Cell> {
        let as_of = self.as_of;
        self.readings.cells().iter().filter(move |cell| is_known(cell, as_of))
    }

    /// The rounds that plan or have readings of a measure, by date.
    pub(super) fn rounds_of(&self, measure: MeasureId) -> Vec<(RoundId, RoundState)> {
        let planned = |round| self.study.planned_readings(round, measure) > 0;
        let belongs = |&round: &RoundId| planned(round) || self.read.contains(&(round, measure));
        let rounds = self.order.iter().copied().filter(belongs);
        rounds.map(|round| (round, self.state(measure, round))).collect()
    }

    // A round is missed only if a later round has readings or its window lies before the given day.
    fn state(&self, measure: MeasureId, round: RoundId) -> RoundState {
        if self.read.contains(&(round, measure)) {
            return RoundState::Read;
        }
        let mut later = self.order.iter().skip_while(|&&other| other != round).skip(1);
        let overtaken = later.any(|&other| self.read.iter().any(|&(read, _)| read == other));
        let passed = self.study.round(round).window.is_some_and(|window| window.last < self.as_of);
        if overtaken || passed { RoundState::Missed } else { RoundState::ToCome }
    }

    /// Readings that the study leaves out.
    pub(super) fn left_out(&self) -> usize {
        self.readings.cells().iter().map(|cell| cell.left_out as usize).sum()
    }
}

/// A study that is looked at as of an earlier day knows nothing of what was read later.
fn is_known(cell: &Cell, as_of: Date) -> bool {
    cell.dates.is_none_or(|(first, _)| first <= as_of)
}

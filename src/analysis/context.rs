//! What every part of the analysis looks up: the study, its readings, and which rounds were read.

use super::model::RoundState;
use crate::readings::{Cell, Readings};
use crate::study::{MeasureId, MeasureKind, RoundId, SectionId, Study};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// The inputs of an analysis.
pub(super) struct Context<'a> {
    pub(super) study: &'a Study,
    pub(super) readings: &'a Readings,
    as_of: Option<Date>,
    /// Every round by date; rounds without one stand last, in the order of the file.
    order: Vec<RoundId>,
    /// What was read: a number, or less than the gauge can tell.
    read: BTreeSet<(RoundId, MeasureId)>,
}

impl<'a> Context<'a> {
    pub(super) fn new(study: &'a Study, readings: &'a Readings, as_of: Option<Date>) -> Self {
        let mut order: Vec<RoundId> = study.rounds_with_ids().map(|(id, _)| id).collect();
        order.sort_by_key(|&id| (study.round(id).date().is_none(), study.round(id).date(), id));
        let read = readings.cells().iter().filter(|cell| cell.taken + cell.below_gauge > 0);
        let read = read.map(|cell| (cell.round, cell.measure)).collect();
        Self { study, readings, as_of, order, read }
    }

    pub(super) fn cell(&self, measure: MeasureId, round: RoundId, section: SectionId) -> Option<&'a Cell> {
        self.readings.cell(section, round, measure)
    }

    /// The cells behind a measure on a section at a round: its own, or those of its parts.
    pub(super) fn cells_of(&self, measure: MeasureId, round: RoundId, section: SectionId) -> Vec<&'a Cell> {
        match &self.study.measure(measure).kind {
            MeasureKind::Made(made) => {
                made.parts.iter().filter_map(|&part| self.cell(part, round, section)).collect()
            }
            _ => self.cell(measure, round, section).into_iter().collect(),
        }
    }

    /// The day on which a section was read first at a round, else the planned day.
    pub(super) fn day(&self, measure: MeasureId, round: RoundId, section: SectionId) -> Option<Date> {
        self.days(measure, round, section).map(|(first, _)| first)
    }

    /// The first and the last day on which a section was read at a round, over all parts of the measure; else the planned day.
    pub(super) fn days(
        &self,
        measure: MeasureId,
        round: RoundId,
        section: SectionId,
    ) -> Option<(Date, Date)> {
        let read = self.cells_of(measure, round, section).into_iter().filter_map(|cell| cell.dates);
        let read = read.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
        read.or_else(|| self.study.round(round).date().map(|date| (date, date)))
    }

    /// Whether a round has readings of a measure, of each part where it is made of parts.
    fn was_read(&self, measure: MeasureId, round: RoundId) -> bool {
        match &self.study.measure(measure).kind {
            MeasureKind::Made(made) => made.parts.iter().all(|&part| self.read.contains(&(round, part))),
            _ => self.read.contains(&(round, measure)),
        }
    }

    /// The rounds that plan or have readings of a measure, by date.
    pub(super) fn rounds_of(&self, measure: MeasureId) -> Vec<(RoundId, RoundState)> {
        let planned = |round| self.study.planned_readings(round, measure) > 0;
        let belongs = |&round: &RoundId| planned(round) || self.was_read(measure, round);
        let rounds = self.order.iter().copied().filter(belongs);
        rounds.map(|round| (round, self.state(measure, round))).collect()
    }

    // A round is missed only if a later round has readings or its window lies before the given day.
    fn state(&self, measure: MeasureId, round: RoundId) -> RoundState {
        if self.was_read(measure, round) {
            return RoundState::Read;
        }
        let mut later = self.order.iter().skip_while(|&&other| other != round).skip(1);
        let overtaken = later.any(|&other| self.read.iter().any(|&(read, _)| read == other));
        let passed = self
            .study
            .round(round)
            .window
            .is_some_and(|window| self.as_of.is_some_and(|as_of| window.last < as_of));
        if overtaken || passed { RoundState::Missed } else { RoundState::ToCome }
    }

    /// Readings that the study leaves out.
    pub(super) fn left_out(&self) -> usize {
        self.readings.cells().iter().map(|cell| cell.left_out as usize).sum()
    }
}

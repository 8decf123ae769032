//! The frame of one measure: its rounds, its reference, and the spread that single readings have.

use super::context::Context;
use super::model::{Compared, Known, RoundState};
use crate::stats::{Spread, anova};
use crate::study::{Made, MeasureId, MeasureKind, Reference, RoundId, Study};
use jiff::civil::Date;

/// A number with its standard uncertainty.
#[derive(Clone, Copy)]
pub(super) struct Value {
    pub(super) value: f64,
    pub(super) standard: Option<f64>,
}

/// What all numbers of one measure share.
pub(super) struct Frame {
    pub(super) measure: MeasureId,
    /// By date.
    pub(super) rounds: Vec<(RoundId, RoundState)>,
    /// Place of the reference in `rounds`.
    pub(super) reference: Option<usize>,
    /// Repeatability that the gauge declares, one standard deviation in the measure's unit.
    pub(super) gauge: Option<f64>,
    /// Spread within cells, pooled.
    pub(super) within: Option<Spread>,
    /// The frames of its parts, where it is made of others.
    pub(super) parts: Vec<Frame>,
    /// Whether its levels are compared though it has a reference: of what tests the coat anew at each round, a change from
    /// the fresh coat would call worse than bare what still does far more than bare. A study may state such a change of what is
    /// not itself held against nothing or the blank.
    pub(super) by_level: bool,
    /// The blank of each round, where it is taken against one.
    pub(super) blanks: Vec<Known<Value>>,
}

impl Frame {
    pub(super) fn new(context: &Context<'_>, measure: MeasureId) -> Self {
        let rounds = context.rounds_of(measure);
        let named = reference_round(context.study, context.study.measure(measure).change_from);
        let reference = named.and_then(|named| rounds.iter().position(|&(round, _)| round == named));
        let cells = context.readings.cells().iter().filter(|cell| cell.measure == measure);
        let values: Vec<Vec<f64>> = cells.map(|cell| context.readings.values(cell)).collect();
        let within = anova::pooled_spread(&values);
        let gauge = context.study.gauge_spread(measure);
        let (parts, blanks, by_level) = (Vec::new(), Vec::new(), false);
        let own = Self { measure, rounds, reference, gauge, within, parts, by_level, blanks };
        match &context.study.measure(measure).kind {
            MeasureKind::Made(made) => own.made_of(context, made),
            _ => own,
        }
    }

    fn made_of(mut self, context: &Context<'_>, made: &Made) -> Self {
        let measure = context.study.measure(self.measure);
        let misses = made.is_effect() || made.is_tested_anew() && !measure.change_stated;
        self.by_level = misses && measure.change_from == Reference::Fresh;
        self.parts = made.parts.iter().map(|&part| Self::new(context, part)).collect();
        self
    }

    /// Place of the first round on the coat: the fresh one, else the one after the baseline, else the first.
    ///
    /// A level before the coat says nothing about the coat.
    pub(super) fn first_on_coat(&self, study: &Study) -> usize {
        let place = |named| reference_round(study, named).and_then(|round| self.place(round));
        let after_baseline = place(Reference::Baseline).map(|baseline| baseline + 1);
        place(Reference::Fresh).or(after_baseline).unwrap_or(0)
    }

    /// What its comparisons are made of: levels where there is nothing to count a change from, or where a change would mislead.
    pub(super) fn compared(&self) -> Compared {
        if self.reference.is_some() && !self.by_level { Compared::Change } else { Compared::Level }
    }

    /// Whether the round at `place` has anything to compare: it lies after the reference, and after the coat where levels
    /// are compared.
    pub(super) fn compares(&self, study: &Study, place: usize) -> bool {
        let after_coat = || {
            let date = self.rounds.get(place).and_then(|&(round, _)| study.round(round).date());
            place >= self.first_on_coat(study)
                && date.zip(applied(study)).is_none_or(|(date, applied)| date >= applied)
        };
        self.reference.map_or_else(after_coat, |reference| place > reference)
    }

    /// Place of a round.
    pub(super) fn place(&self, round: RoundId) -> Option<usize> {
        self.rounds.iter().position(|&(other, _)| other == round)
    }
}

/// The round that a reference names.
pub(super) fn reference_round(study: &Study, reference: Reference) -> Option<RoundId> {
    study.round_named(match reference {
        Reference::Baseline => "baseline",
        Reference::Fresh => "fresh",
    })
}

/// The planned day of application.
pub(super) fn applied(study: &Study) -> Option<Date> {
    study.apply.as_ref()?.on.as_ref().map(|on| on.value)
}

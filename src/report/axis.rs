//! The axis of time of a picture: it counts what the text beside it counts, cycles or days.

use super::material::Material;
use super::names;
use crate::analysis::Moment;
use crate::study::{RoundId, Study};

/// What is counted along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Axis {
    /// Cycles; what is read before the first of them stands at 0.
    Cycles,
    /// Days since the products went on.
    Days,
}

impl Axis {
    /// Cycles where the study has them and every one of these rounds, in their order, is one, but for those before the first: a round
    /// after the last cycle has no number.
    pub(super) fn of(study: &Study, rounds: impl Iterator<Item = RoundId>) -> Self {
        let mut cycles = rounds.map(|round| study.cycle_of(round)).skip_while(Option::is_none).peekable();
        if cycles.peek().is_some() && cycles.all(|cycle| cycle.is_some()) { Self::Cycles } else { Self::Days }
    }

    /// Where a round stands; `None` where no day of it is known.
    pub(super) fn round(self, material: &Material<'_>, round: RoundId) -> Option<f64> {
        let study = material.study;
        match self {
            Self::Cycles => Some(cycle(study, round)),
            Self::Days => {
                names::round_days(study, material.readings, material.analysis, round).map(|days| days as f64)
            }
        }
    }

    /// Where a section stood when it was read; `None` where no day of it is known.
    pub(super) fn moment(self, study: &Study, moment: Moment) -> Option<f64> {
        match self {
            Self::Cycles => Some(cycle(study, moment.round)),
            Self::Days => moment.days.map(|days| days as f64),
        }
    }
}

fn cycle(study: &Study, round: RoundId) -> f64 {
    study.cycle_of(round).unwrap_or(0) as f64
}

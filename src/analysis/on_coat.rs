//! The levels of one section on its coat, in order of time.

use super::context::Context;
use super::frame::Frame;
use super::model::{Missing, Pace, Piece, SectionSeries};
use crate::study::{SectionId, Treatment};
use crate::units::DAYS_IN_MONTH;

/// One section from its first round on the coat.
pub(super) struct Run {
    pub(super) section: SectionId,
    pub(super) treatment: Treatment,
    pub(super) piece: Option<Piece>,
    /// Place of the round among those read, time in months or cycles, level.
    pub(super) points: Vec<(usize, f64, f64)>,
    pub(super) readings: u32,
    /// Whether it has a level at the last round.
    pub(super) whole: bool,
    /// Whether the rule of the cycle stopped it before the end.
    pub(super) stopped: bool,
    /// Whether it was below what the gauge can tell at the last round.
    pub(super) below: bool,
}

impl Run {
    /// `None` where a level has no day and days are counted.
    pub(super) fn of(
        context: &Context<'_>,
        frame: &Frame,
        series: &SectionSeries,
        (places, pace): (&[usize], Pace),
    ) -> Option<Self> {
        let mut run = Self {
            section: series.section,
            treatment: series.treatment,
            piece: series.piece,
            points: Vec::new(),
            readings: 0,
            whole: false,
            below: places
                .last()
                .is_some_and(|&last| series.at[last].numbers.level == Err(Missing::BelowGauge)),
            stopped: series.at.iter().any(|at| at.numbers.level == Err(Missing::Stopped)),
        };
        for (at, &place) in places.iter().enumerate() {
            let section = &series.at[place];
            let Ok(level) = section.numbers.level else { continue };
            let time = match pace {
                Pace::Cycle => context.study.cycle_of(section.round).unwrap_or(0) as f64,
                Pace::Month => {
                    let day = context.day(frame.measure, section.round, series.section)?;
                    f64::from(day.since(jiff::civil::Date::default()).ok()?.get_days()) / DAYS_IN_MONTH
                }
            };
            run.points.push((at, time, level.mean));
            run.readings += section.n;
            run.whole = at + 1 == places.len();
        }
        Some(run)
    }

    /// Time and level at a place.
    pub(super) fn at(&self, place: usize) -> Option<(f64, f64)> {
        let found = self.points.iter().find(|(at, ..)| *at == place)?;
        Some((found.1, found.2))
    }

    /// The site that it stands at, where that matters.
    pub(super) fn site(&self) -> Option<usize> {
        match self.piece? {
            Piece::AtSites(on) => Some(on.place),
            Piece::Unit(_) | Piece::Block(..) => None,
        }
    }

    /// Times and levels at all its places.
    pub(super) fn all(&self) -> (Vec<f64>, Vec<f64>) {
        self.points.iter().map(|&(_, time, level)| (time, level)).unzip()
    }

    /// Times and levels at those of some places that it has.
    pub(super) fn common(&self, common: &[usize]) -> (Vec<f64>, Vec<f64>) {
        common.iter().filter_map(|&at| self.at(at)).unzip()
    }
}

//! From readings to sections: mean, change and retention of every section at every round, with their uncertainty.

use super::context::Context;
use super::frame::Frame;
use super::model::{
    Known, Missing, RoundState, ScatterFrom, SectionAt, SectionMean, SectionNumbers, SectionSeries,
    Uncertain, Uncertainty,
};
use crate::readings::{Cell, Summary};
use crate::study::{RoundId, SectionId};
use crate::units::Dimension;

/// Which readings of a cell count.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Taken {
    /// Without those that the study leaves out.
    Counted,
    /// All.
    All,
}

impl Taken {
    fn of(self, cell: &Cell) -> Summary {
        match self {
            Self::Counted => cell.kept,
            Self::All => cell.all,
        }
    }
}

/// Every section over the rounds of a measure, in map order.
pub(super) fn series(context: &Context<'_>, frame: &Frame) -> Vec<SectionSeries> {
    let sections = context.study.sections_with_ids();
    sections
        .map(|(section, about)| SectionSeries {
            section,
            treatment: about.treatment,
            at: (0..frame.rounds.len()).map(|place| at(context, frame, section, place)).collect(),
        })
        .collect()
}

fn at(context: &Context<'_>, frame: &Frame, section: SectionId, place: usize) -> SectionAt {
    let (round, state) = frame.rounds[place];
    let cell = context.cell(frame.measure, round, section);
    let reference = frame.reference.and_then(|at| context.cell(frame.measure, frame.rounds[at].0, section));
    let n = cell.map_or(0, |cell| cell.kept.n);
    let planned = context.study.planned_readings(round, frame.measure);
    let with = |taken| numbers(context, frame, section, place, taken);
    let touched = [cell, reference].into_iter().flatten().any(|cell| cell.left_out > 0);
    SectionAt {
        round,
        planned,
        n,
        missing: if state == RoundState::ToCome { 0 } else { planned.saturating_sub(n) },
        below_gauge: cell.map_or(0, |cell| cell.below_gauge),
        left_out: cell.map_or(0, |cell| cell.left_out),
        numbers: with(Taken::Counted),
        with_left_out: touched.then(|| with(Taken::All)),
    }
}

fn numbers(
    context: &Context<'_>,
    frame: &Frame,
    section: SectionId,
    place: usize,
    taken: Taken,
) -> SectionNumbers {
    let level = level(context, frame, section, place, taken);
    let pair = || match frame.reference {
        None => Err(Missing::NoReference),
        Some(reference) if place < reference => Err(Missing::BeforeReference),
        Some(reference) if place == reference => level.map(|mean| (mean, mean)),
        Some(reference) => {
            let from = self::level(context, frame, section, reference, taken);
            Ok((level?, from.map_err(|_| Missing::NoReference)?))
        }
    };
    let same = frame.reference == Some(place);
    // Twenty degrees are not twice ten, so a share of a temperature means nothing.
    let unit = context.study.measure(frame.measure).unit.known;
    let has_zero = unit.is_none_or(|unit| unit.dimension != Dimension::Temperature);
    SectionNumbers {
        level,
        change: pair().and_then(|(now, from)| change(now, from, same)),
        retention: pair()
            .and_then(|(now, from)| if has_zero { Ok((now, from)) } else { Err(Missing::NoShare) })
            .and_then(|(now, from)| retention(now, from, same)),
    }
}

fn level(
    context: &Context<'_>,
    frame: &Frame,
    section: SectionId,
    place: usize,
    taken: Taken,
) -> Known<SectionMean> {
    let (round, state) = frame.rounds[place];
    let cell = context.cell(frame.measure, round, section);
    let Some((cell, values)) = cell.map(|cell| (cell, taken.of(cell))).filter(|(_, values)| values.n > 0)
    else {
        return Err(absence(context, section, round, state, cell));
    };
    // What was read after the section ended shows what ended it, not the product.
    let day = cell.dates.map(|(_, last)| last).or_else(|| context.study.round(round).date());
    if context.study.ended(section).zip(day).is_some_and(|(ended, day)| ended < day) {
        return Err(Missing::Ended);
    }
    if cell.below_gauge > 0 {
        return Err(Missing::BelowGauge);
    }
    let mean = values.mean.filter(|mean| mean.is_finite()).ok_or(Missing::TooLarge)?;
    let sd = values.sd.filter(|sd| sd.is_finite());
    Ok(SectionMean { n: values.n, mean, sd, uncertainty: uncertainty(frame, values.n, sd) })
}

fn absence(
    context: &Context<'_>,
    section: SectionId,
    round: RoundId,
    state: RoundState,
    cell: Option<&Cell>,
) -> Missing {
    let date = context.study.round(round).date();
    let ended = context.study.ended(section).zip(date).is_some_and(|(ended, date)| ended <= date);
    match state {
        _ if cell.is_some_and(|cell| cell.below_gauge > 0) => Missing::BelowGauge,
        _ if cell.is_some_and(|cell| cell.left_out > 0) => Missing::AllLeftOut,
        _ if ended => Missing::Ended,
        RoundState::ToCome => Missing::ToCome,
        RoundState::Missed => Missing::RoundMissed,
        RoundState::Read => Missing::NotRead,
    }
}

/// Spread / sqrt(n), the spread not below the gauge's repeatability (JCGM 100:2008, 4.2.3 and 4.3).
/// Repeatability is part of the scatter of the readings, so it is a floor and never added.
fn uncertainty(frame: &Frame, n: u32, sd: Option<f64>) -> Option<Uncertainty> {
    let (spread, from) = match (sd, frame.gauge) {
        (Some(sd), gauge) if gauge.is_none_or(|gauge| sd >= gauge) => (sd, ScatterFrom::Readings),
        (_, Some(gauge)) => (gauge, ScatterFrom::Gauge),
        (_, None) => (frame.within?.sd, ScatterFrom::WithinCells),
    };
    Some(Uncertainty { standard: spread / f64::from(n).sqrt(), from })
}

fn change(now: SectionMean, from: SectionMean, same: bool) -> Known<Uncertain> {
    let of = |mean: SectionMean| mean.uncertainty.map(|uncertainty| uncertainty.standard);
    let standard = of(now).zip(of(from)).map(|(a, b)| if same { 0.0 } else { a.hypot(b) });
    finite(now.mean - from.mean, standard)
}

/// 100 x now / from; first-order propagation of the two independent uncertainties (JCGM 100:2008, 5.1.2).
fn retention(now: SectionMean, from: SectionMean, same: bool) -> Known<Uncertain> {
    if from.mean <= 0.0 {
        return Err(Missing::NoShare);
    }
    let share = now.mean / from.mean;
    let of = |mean: SectionMean| mean.uncertainty.map(|uncertainty| uncertainty.standard);
    let both = of(now).zip(of(from));
    let standard = both.map(|(a, b)| if same { 0.0 } else { 100.0 * a.hypot(share * b) / from.mean });
    finite(100.0 * share, standard)
}

fn finite(value: f64, standard: Option<f64>) -> Known<Uncertain> {
    let standard = standard.filter(|standard| standard.is_finite());
    if value.is_finite() { Ok(Uncertain { value, standard }) } else { Err(Missing::TooLarge) }
}

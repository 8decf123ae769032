//! From readings to sections: mean, change and retention of every section at every round, with their uncertainty.

use super::context::Context;
use super::frame::Frame;
use super::level::{Taken, level};
use super::model::{
    Known, Missing, RoundState, SectionAt, SectionMean, SectionNumbers, SectionSeries, Uncertain,
    base_of_share,
};
use super::pieces::pieces;
use crate::readings::Value;
use crate::stats::summary;
use crate::study::{MeasureKind, RoundId, SectionId};
use crate::units::Dimension;

/// Every section over the rounds of a measure, in map order.
pub(super) fn series(context: &Context<'_>, frame: &Frame) -> Vec<SectionSeries> {
    let places = context.study.places_of(frame.measure);
    let pieces = pieces(context.study, frame.measure);
    places
        .map(|(section, about)| SectionSeries {
            section,
            treatment: about.treatment,
            piece: pieces.get(&section).copied(),
            at: (0..frame.rounds.len()).map(|place| at(context, frame, section, place)).collect(),
        })
        .collect()
}

fn at(context: &Context<'_>, frame: &Frame, section: SectionId, place: usize) -> SectionAt {
    let (round, state) = frame.rounds[place];
    let cells = context.cells_of(frame.measure, round, section);
    let reference = frame.reference.map(|at| context.cells_of(frame.measure, frame.rounds[at].0, section));
    let n = cells.iter().map(|cell| cell.kept.n).min().unwrap_or(0);
    let planned = context.study.planned_readings(round, frame.measure);
    let with = |taken| numbers(context, frame, section, place, taken);
    let touched = cells.iter().chain(reference.iter().flatten()).any(|cell| cell.left_out > 0);
    SectionAt {
        round,
        planned,
        n,
        missing: if state == RoundState::ToCome { 0 } else { planned.saturating_sub(n) },
        below_gauge: cells.iter().map(|cell| cell.below_gauge).sum(),
        at_most: (!matches!(context.study.measure(frame.measure).kind, MeasureKind::Made(_)))
            .then(|| at_most(context, frame, section, round))
            .flatten(),
        left_out: cells.iter().map(|cell| cell.left_out).sum(),
        numbers: with(Taken::Counted),
        with_left_out: touched.then(|| with(Taken::All)),
    }
}

/// The mean with every reading below the gauge put at its limit.
fn at_most(context: &Context<'_>, frame: &Frame, section: SectionId, round: RoundId) -> Option<f64> {
    let cell = context.cell(frame.measure, round, section).filter(|cell| cell.below_gauge > 0)?;
    let kept = context.readings.of(cell).filter(|reading| reading.left_out.is_none());
    let values: Vec<f64> = kept
        .filter_map(|reading| match reading.value {
            Value::Taken(value) | Value::BelowGauge(value) => Some(value),
            Value::NotTaken => None,
        })
        .collect();
    summary::mean(&values)
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
            let why = |why| match why {
                Missing::BelowGauge => Missing::ReferenceBelow,
                _ => Missing::NoReference,
            };
            Ok((level?, from.map_err(why)?))
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

fn change(now: SectionMean, from: SectionMean, same: bool) -> Known<Uncertain> {
    let of = |mean: SectionMean| mean.uncertainty.map(|uncertainty| uncertainty.standard);
    let standard = of(now).zip(of(from)).map(|(a, b)| if same { 0.0 } else { a.hypot(b) });
    finite(now.mean - from.mean, standard)
}

/// 100 x now / from; first-order propagation of the two independent uncertainties (JCGM 100:2008, 5.1.2).
fn retention(now: SectionMean, from: SectionMean, same: bool) -> Known<Uncertain> {
    let of = |mean: SectionMean| mean.uncertainty.map(|uncertainty| uncertainty.standard);
    let share = now.mean / base_of_share(from.mean, of(from))?;
    let both = of(now).zip(of(from));
    let standard = both.map(|(a, b)| if same { 0.0 } else { 100.0 * a.hypot(share * b) / from.mean });
    finite(100.0 * share, standard)
}

fn finite(value: f64, standard: Option<f64>) -> Known<Uncertain> {
    let standard = standard.filter(|standard| standard.is_finite());
    if value.is_finite() { Ok(Uncertain { value, standard }) } else { Err(Missing::TooLarge) }
}

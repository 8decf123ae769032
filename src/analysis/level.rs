//! The level of a section at a round: the mean of its readings, the median of its marks, or what is made of its parts.

use super::context::Context;
use super::frame::{Frame, Value};
use super::model::{Known, Missing, RoundState, ScatterFrom, SectionMean, Uncertainty, base_of_share};
use crate::readings::{Cell, Summary};
use crate::stats::{colour, summary};
use crate::study::{Made, Making, MeasureKind, RoundId, SectionId, Treatment};

/// Squares of numbers below this can be added up; a spread of larger ones would be infinite.
const LARGEST: f64 = 1e140;

/// Which readings of a cell count.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Taken {
    /// Without those that the study leaves out.
    Counted,
    /// All.
    All,
}

impl Taken {
    fn of(self, context: &Context<'_>, cell: &Cell) -> Summary {
        match self {
            Self::Counted => cell.kept,
            Self::All => context.readings.with_left_out(cell),
        }
    }
}

/// The level of a section at a round.
pub(super) fn level(
    context: &Context<'_>,
    frame: &Frame,
    section: SectionId,
    place: usize,
    taken: Taken,
) -> Known<SectionMean> {
    if let MeasureKind::Made(made) = &context.study.measure(frame.measure).kind {
        return made_level(context, frame, made, (section, place), taken);
    }
    let (round, state) = frame.rounds[place];
    let cell = context.cell(frame.measure, round, section);
    let Some((cell, values)) =
        cell.map(|cell| (cell, taken.of(context, cell))).filter(|(_, values)| values.n > 0)
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
    if matches!(context.study.measure(frame.measure).kind, MeasureKind::Rating(_)) {
        return rated(context, cell, taken);
    }
    let mean = values.mean().filter(|mean| mean.abs() < LARGEST).ok_or(Missing::TooLarge)?;
    let sd = values.sd();
    Ok(SectionMean { n: values.n, mean, sd, uncertainty: uncertainty(frame, values.n, sd) })
}

/// The level of a rating is the median of its marks: they have an order, and their steps need not be equal.
fn rated(context: &Context<'_>, cell: &Cell, taken: Taken) -> Known<SectionMean> {
    let counts = |left_out: bool| taken == Taken::All || !left_out;
    let readings = context.readings.of(cell).filter(|reading| counts(reading.left_out.is_some()));
    let marks: Vec<f64> = readings.filter_map(|reading| reading.value.number()).collect();
    let median = summary::median(&marks).ok_or(Missing::NotRead)?;
    let n = u32::try_from(marks.len()).unwrap_or(u32::MAX);
    Ok(SectionMean { n, mean: median, sd: None, uncertainty: None })
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
        _ if context.readings.stopped(context.study, section, round) => Missing::Stopped,
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

/// A frame with the blank of each of its rounds, where its measure is taken against one.
pub(super) fn with_blanks(context: &Context<'_>, frame: Frame) -> Frame {
    let blanks = match &context.study.measure(frame.measure).kind {
        MeasureKind::Made(made) if made.against_blank => blanks(context, &frame, made),
        _ => Vec::new(),
    };
    Frame { blanks, ..frame }
}

/// The blank of every round: the mean over the bare places of what one section gives, as uncertain as they scatter, and no less
/// than their own readings leave it.
fn blanks(context: &Context<'_>, frame: &Frame, made: &Made) -> Vec<Known<Value>> {
    let bare: Vec<SectionId> = context
        .study
        .places_of(frame.measure)
        .filter(|(_, section)| section.treatment == Treatment::Bare)
        .map(|(id, _)| id)
        .collect();
    let of = |place: usize| {
        let values = bare.iter().map(|&section| own(context, frame, made, section, place, Taken::Counted));
        let (values, missing): (Vec<_>, Vec<_>) = values.partition(Result::is_ok);
        let values: Vec<Value> = values.into_iter().flatten().collect();
        let why = missing.into_iter().find_map(Result::err).unwrap_or(Missing::NoBlank);
        let (n, numbers) = (values.len() as f64, values.iter().map(|value| value.value).collect::<Vec<_>>());
        let read: Option<Vec<f64>> = values.iter().map(|value| value.standard).collect();
        let read = read.map(|read| read.iter().map(|standard| standard.powi(2)).sum::<f64>().sqrt() / n);
        let scatter = summary::sd(&numbers).map(|sd| sd / n.sqrt());
        let standard = read.into_iter().chain(scatter).reduce(f64::max);
        Ok(Value { value: summary::mean(&numbers).ok_or(why)?, standard })
    };
    (0..frame.rounds.len()).map(of).collect()
}

/// The level of a section at a round.
fn made_level(
    context: &Context<'_>,
    frame: &Frame,
    made: &Made,
    (section, place): (SectionId, usize),
    taken: Taken,
) -> Known<SectionMean> {
    if made.making == Making::ColourChange {
        return colour_change(context, frame, (section, place), taken);
    }
    let own = own(context, frame, made, section, place, taken)?;
    let value = match (made.against_blank, frame.blanks.get(place)) {
        (true, Some(&blank)) => against(own, blank?, made.making)?,
        (true, None) => return Err(Missing::NoBlank),
        (false, _) => own,
    };
    let value = match made.making {
        Making::ShareStopped => percent(value, 1.0, -1.0),
        Making::PercentGained => percent(value, 1.0, 1.0),
        Making::PercentOf => percent(value, 0.0, 1.0),
        Making::Difference | Making::Gain | Making::Ratio | Making::ColourChange => value,
    };
    mean(context, frame, (section, place), value)
}

/// What one section gives before any blank: second over first for what becomes percent, else as the making says.
fn own(
    context: &Context<'_>,
    frame: &Frame,
    made: &Made,
    section: SectionId,
    place: usize,
    taken: Taken,
) -> Known<Value> {
    let parts = parts(context, frame, (section, place), taken)?;
    let &[first, second] = parts.as_slice() else { return Err(Missing::NotPlanned) };
    match made.making {
        Making::Difference => Ok(less(first, second)),
        Making::Gain => Ok(less(second, first)),
        Making::ShareStopped | Making::PercentGained => ratio(second, first),
        Making::Ratio | Making::PercentOf | Making::ColourChange => ratio(first, second),
    }
}

/// a - b with the uncertainties of both.
fn less(a: Value, b: Value) -> Value {
    Value {
        value: a.value - b.value,
        standard: a.standard.zip(b.standard).map(|(of_a, of_b)| of_a.hypot(of_b)),
    }
}

/// a / b with first-order propagation (JCGM 100:2008, 5.1.2).
fn ratio(a: Value, b: Value) -> Known<Value> {
    let base = base_of_share(b.value, b.standard).map_err(|why| match why {
        Missing::NoShare => Missing::NoDivisor,
        other => other,
    })?;
    let value = a.value / base;
    let standard = a.standard.zip(b.standard).map(|(of_a, of_b)| of_a.hypot(value * of_b) / b.value);
    Ok(Value { value, standard })
}

/// A section's own number less the blank, or over it, with the uncertainties of both. That of the blank is shared by all sections of
/// the round.
fn against(own: Value, blank: Value, making: Making) -> Known<Value> {
    match making {
        Making::Difference | Making::Gain => Ok(less(own, blank)),
        _ => ratio(own, blank),
    }
}

/// How far a share lies above (`way` of 1) or below (-1) what it is counted from, in percent.
fn percent(share: Value, from: f64, way: f64) -> Value {
    Value { value: 100.0 * way * (share.value - from), standard: share.standard.map(|sd| 100.0 * sd) }
}

/// The levels of the parts at a round of the whole.
fn parts(
    context: &Context<'_>,
    frame: &Frame,
    (section, place): (SectionId, usize),
    taken: Taken,
) -> Known<Vec<Value>> {
    let round = frame.rounds.get(place).ok_or(Missing::NotPlanned)?.0;
    let of = |part: &Frame| {
        let mean = level(context, part, section, part.place(round).ok_or(Missing::NotPlanned)?, taken)?;
        Ok(Value { value: mean.mean, standard: mean.uncertainty.map(|uncertainty| uncertainty.standard) })
    };
    frame.parts.iter().map(of).collect()
}

/// CIEDE2000 (ISO/CIE 11664-6) from the section's own mean L*, a* and b* at the reference; 0 there by definition.
fn colour_change(
    context: &Context<'_>,
    frame: &Frame,
    (section, place): (SectionId, usize),
    taken: Taken,
) -> Known<SectionMean> {
    let reference = frame.reference.ok_or(Missing::NoReference)?;
    if place < reference {
        return Err(Missing::BeforeReference);
    }
    let now = parts(context, frame, (section, place), taken)?;
    let from = parts(context, frame, (section, reference), taken).map_err(|_| Missing::NoReference)?;
    let lab =
        |values: &[Value]| <[f64; 3]>::try_from(values.iter().map(|v| v.value).collect::<Vec<_>>()).ok();
    let (now_lab, from_lab) = lab(&now).zip(lab(&from)).ok_or(Missing::NotPlanned)?;
    let difference = |now: [f64; 3], from: [f64; 3]| colour::ciede2000(now, from).ok_or(Missing::TooLarge);
    let value = difference(now_lab, from_lab)?;
    // The difference has no simple derivative at 0, so the spread of each part is tried one by one.
    let step = |at: usize, of: &[Value], moved: &dyn Fn([f64; 3]) -> Known<f64>, lab: [f64; 3]| {
        let sd = of[at].standard?;
        let mut shifted = lab;
        shifted[at] += sd;
        Some((moved(shifted).ok()? - value).powi(2))
    };
    let squares: Option<f64> = (0..3)
        .flat_map(|at| {
            [
                step(at, &now, &|shifted| difference(shifted, from_lab), now_lab),
                step(at, &from, &|shifted| difference(now_lab, shifted), from_lab),
            ]
        })
        .sum();
    let standard = if place == reference { Some(0.0) } else { squares.map(f64::sqrt) };
    mean(context, frame, (section, place), Value { value, standard })
}

fn mean(
    context: &Context<'_>,
    frame: &Frame,
    (section, place): (SectionId, usize),
    value: Value,
) -> Known<SectionMean> {
    let finite = value.value.abs() < LARGEST;
    let round = frame.rounds[place].0;
    let n = context.cells_of(frame.measure, round, section).iter().map(|cell| cell.kept.n).min().unwrap_or(0);
    let standard = value.standard.filter(|standard| standard.is_finite());
    let uncertainty = standard.map(|standard| Uncertainty { standard, from: ScatterFrom::Parts });
    if finite {
        Ok(SectionMean { n, mean: value.value, sd: None, uncertainty })
    } else {
        Err(Missing::TooLarge)
    }
}

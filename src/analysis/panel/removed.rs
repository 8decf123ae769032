//! What preparation took off: places of the panel read before and after, pair by pair.

use super::super::context::Context;
use super::super::frame::reference_round;
use super::super::model::{Interval, Removed, TooEven, Twice};
use crate::readings::{Apart, ApartCell};
use crate::stats::{distributions, summary};
use crate::study::{MeasureId, Reference, SectionId, Treatment};
use std::collections::BTreeMap;

/// The first against the last step of the preparation that has readings of a measure; `None` unless two do and have a
/// place in common.
pub(super) fn removed(context: &Context<'_>, measure: MeasureId) -> Option<Removed> {
    let own = context.readings.apart().iter().filter(|apart| apart.measure() == measure);
    let steps: BTreeMap<usize, BTreeMap<u32, f64>> = own
        .filter_map(|apart| match apart.at {
            Apart::Prep(step) => Some((step, places(context, apart))),
            Apart::Tile(_) => None,
        })
        .collect();
    let ((&from, before), (&to, after)) = (steps.first_key_value()?, steps.last_key_value()?);
    if from == to {
        return None;
    }
    let twice = before
        .iter()
        .filter_map(|(&place, &before)| Some(Twice { place, before, after: *after.get(&place)? }));
    let places: Vec<Twice> = twice.collect();
    // Readings on a place are averaged, so that a loss has the error of as many readings as there are at either step.
    let readings = |step: usize, place: u32| readings_on(context, measure, (step, place));
    let share = |twice: &Twice| {
        [from, to].iter().map(|&step| 1.0 / readings(step, twice.place).max(1) as f64).sum::<f64>()
    };
    let each = summary::mean(&places.iter().map(share).collect::<Vec<f64>>()).unwrap_or(2.0);
    let at = |step: usize| places.iter().map(|twice| readings(step, twice.place)).sum::<usize>();
    let readings = (at(from), at(to));
    let of = |pick: fn(&Twice) -> f64| places.iter().map(pick).collect::<Vec<f64>>();
    let losses = of(|twice| twice.before - twice.after);
    let mean = summary::mean(&losses)?;
    let n = places.len();
    let half = summary::standard_error(&losses)
        .filter(|error| *error > 0.0)
        .and_then(|error| Some(distributions::t_quantile(0.975, (n - 1) as f64)? * error));
    let unit = &context.study.measure(measure).unit;
    let by_gauge = context.study.gauge_spread(measure).map(|sd| sd * each.sqrt());
    let left = after
        .values()
        .map(|&level| (level, None))
        .chain(at_baseline(context, measure).into_iter().map(|(section, level)| (level, Some(section))));
    let (lowest, lowest_on) = left.reduce(|one, other| if other.0 < one.0 { other } else { one })?;
    Some(Removed {
        measure,
        steps: (from, to),
        means: (summary::mean(&of(|twice| twice.before))?, summary::mean(&of(|twice| twice.after))?),
        places,
        readings,
        unpaired: before.len() + after.len() - 2 * n,
        mean,
        interval: half.map(|half| Interval { low: mean - half, high: mean + half }),
        sd: summary::sd(&losses),
        gauge: by_gauge.map(|sd| sd / (n as f64).sqrt()),
        too_even: by_gauge.and_then(|by_gauge| too_even(&losses, by_gauge)),
        lowest,
        lowest_on,
        leave: context.study.surface.leave.and_then(|leave| unit.value_of(leave.any())),
    })
}

/// The level below which the scatter of losses is told as less than the gauge can give.
const LEVEL: f64 = 0.01;

/// The losses of honest readings scatter at least as the gauge does, however even the film: the chi-square test of a variance against a
/// stated one, from below (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapter 5). Differences of true loss only add scatter.
fn too_even(losses: &[f64], by_gauge: f64) -> Option<TooEven> {
    let (sd, df) = (summary::sd(losses)?, (losses.len() - 1) as f64);
    let p = 1.0 - distributions::chi_square_tail(df * (sd / by_gauge).powi(2), df)?;
    (p < LEVEL).then_some(TooEven { by_gauge, df, p })
}

/// Readings on a place at a step.
fn readings_on(context: &Context<'_>, measure: MeasureId, (step, place): (usize, u32)) -> usize {
    let own = context.readings.apart().iter().filter(|apart| apart.measure() == measure);
    let at = own.filter(|apart| matches!(apart.at, Apart::Prep(one) if one == step));
    let taken = at.flat_map(|apart| context.readings.of_apart(apart));
    taken.filter(|one| one.number == place && one.value.number().is_some()).count()
}

/// The level of every prepared section of the panel at the baseline, which is read after the preparation.
fn at_baseline(context: &Context<'_>, measure: MeasureId) -> Vec<(SectionId, f64)> {
    let Some(round) = reference_round(context.study, Reference::Baseline) else { return Vec::new() };
    let sections = context.study.sections_with_ids();
    let prepared = sections.filter(|(_, section)| section.treatment != Treatment::Untouched);
    let level = |(id, _)| {
        let cell = context.cell(measure, round, id)?;
        Some((id, summary::mean(&context.readings.values(cell))?))
    };
    prepared.filter_map(level).collect()
}

/// The mean of each place, by its number.
fn places(context: &Context<'_>, apart: &ApartCell) -> BTreeMap<u32, f64> {
    let mut all: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for reading in context.readings.of_apart(apart) {
        if let Some(value) = reading.value.number() {
            all.entry(reading.number).or_default().push(value);
        }
    }
    all.into_iter().filter_map(|(place, values)| Some((place, summary::mean(&values)?))).collect()
}

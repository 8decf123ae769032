//! What preparation took off: places of the panel read before and after, pair by pair.

use super::super::context::Context;
use super::super::model::{Interval, Removed, Twice};
use crate::readings::{Apart, ApartCell};
use crate::stats::{distributions, summary};
use crate::study::MeasureId;
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
    let of = |pick: fn(&Twice) -> f64| places.iter().map(pick).collect::<Vec<f64>>();
    let losses = of(|twice| twice.before - twice.after);
    let mean = summary::mean(&losses)?;
    let n = places.len();
    let half = summary::standard_error(&losses)
        .filter(|error| *error > 0.0)
        .and_then(|error| Some(distributions::t_quantile(0.975, (n - 1) as f64)? * error));
    let unit = &context.study.measure(measure).unit;
    Some(Removed {
        measure,
        steps: (from, to),
        means: (summary::mean(&of(|twice| twice.before))?, summary::mean(&of(|twice| twice.after))?),
        places,
        unpaired: before.len() + after.len() - 2 * n,
        mean,
        interval: half.map(|half| Interval { low: mean - half, high: mean + half }),
        gauge: context.study.gauge_spread(measure).map(|sd| sd * (2.0 / n as f64).sqrt()),
        lowest: after.values().copied().reduce(f64::min)?,
        leave: context.study.surface.leave.and_then(|leave| unit.value_of(leave.any())),
    })
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

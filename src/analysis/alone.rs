//! The mean of one treatment by itself: over its sections, or over the sites alike where differences are averages over sites.

use super::groups;
use super::model::{GroupValue, Interval};
use super::over_sites;
use super::sample::Sample;
use crate::stats::{Spread, distributions, summary};

/// Upper tail of a two-sided 95 % interval.
const UPPER: f64 = 0.975;

/// What the intervals of single means rest on, in one table of one number.
#[derive(Clone, Copy)]
pub(super) struct Alone {
    /// Whether means count every site alike, on how sections that carry the same at the same site scatter.
    pub(super) over_sites: bool,
    /// The spread pooled over all treatments.
    pub(super) shared: Option<Spread>,
    /// Whether every treatment keeps its own spread instead.
    differ: bool,
}

impl Alone {
    pub(super) fn of(samples: &[Sample], differ: bool) -> Self {
        let within = over_sites::of_single_means(samples);
        let shared = within.or_else(|| groups::spread(samples));
        Self { over_sites: within.is_some(), shared, differ }
    }

    /// The same with a spread of its own for every treatment.
    pub(super) fn each_its_own(self) -> Self {
        Self { differ: true, ..self }
    }

    /// The spread that the interval of a treatment rests on.
    pub(super) fn spread(self, sample: &Sample) -> Option<Spread> {
        match (self.differ, self.over_sites) {
            (true, true) => over_sites::within_cells(&[sample]),
            (differ, _) => groups::spread_of(sample, self.shared, differ),
        }
    }

    /// The variance of its mean, in squares of that spread.
    pub(super) fn variance(self, sample: &Sample) -> f64 {
        if self.over_sites { over_sites::variance(sample) } else { 1.0 / sample.values.len() as f64 }
    }

    pub(super) fn mean(self, sample: &Sample) -> Option<f64> {
        if self.over_sites {
            over_sites::mean(&sample.values, sample.places())
        } else {
            summary::mean(&sample.values)
        }
    }

    /// Mean of a sample with its 95 % t interval; `None` where it is empty.
    pub(super) fn value(self, sample: &Sample) -> Option<GroupValue> {
        let plain = groups::value(sample, self.spread(sample))?;
        let mean = self.mean(sample)?;
        let half = || {
            let spread = self.spread(sample)?;
            Some(distributions::t_quantile(UPPER, spread.df)? * spread.sd * self.variance(sample).sqrt())
        };
        let half = plain.interval.and_then(|_| half());
        Some(GroupValue {
            mean,
            interval: half.map(|half| Interval { low: mean - half, high: mean + half }),
            ..plain
        })
    }
}

//! What intervals rest on: the spread between sections treated alike, and what may be said with it.

use super::groups::{self, Sample};
use super::model::{Basis, Strength};
use crate::stats::max_t::{MaxT, Sides};
use crate::study::Treatment;

/// Below this many degrees of freedom there are intervals and no words.
const DEGREES_FOR_WORDS: f64 = 3.0;
/// A spread below this share of the level is the rounding of the arithmetic, not a scatter.
const ROUNDING: f64 = 1e-12;

/// The basis for samples of changes; `level` is the largest mean that the changes were made from.
///
/// Treatments with a single section add nothing to the spread, so that products with one section
/// each are judged by the scatter of the bare ones, on sum(n - 1) degrees of freedom.
pub(super) fn basis(samples: &[Sample], level: f64) -> Basis {
    let from: Vec<Treatment> =
        samples.iter().filter(|sample| sample.values.len() > 1).map(|sample| sample.treatment).collect();
    let spread = groups::spread(samples);
    let strength = match spread {
        None => Strength::SectionsOnly,
        Some(spread) if spread.sd <= ROUNDING * level => Strength::NoScatter,
        Some(spread) if spread.df < DEGREES_FOR_WORDS => Strength::FewDegrees,
        Some(_) => Strength::Full,
    };
    let product = |treatment: &Treatment| matches!(treatment, Treatment::Product(_));
    Basis { spread, taken_from_uncoated: !from.iter().any(product), from, strength }
}

/// A family of comparisons with bare and its critical value.
pub(super) struct Family {
    numbers: Vec<usize>,
    bare: usize,
    df: f64,
    pub(super) distribution: MaxT,
    pub(super) critical: f64,
}

/// The families met so far. Most rounds and measures have the same numbers of sections, and solving for the critical
/// value costs far more than all else, so each is solved once.
#[derive(Default)]
pub(super) struct Families {
    known: Vec<Family>,
}

impl Families {
    /// The two-sided family of groups of `numbers` sections against `bare` sections; `None` where it has no critical value.
    pub(super) fn get(&mut self, mut numbers: Vec<usize>, bare: usize, df: f64) -> Option<&Family> {
        numbers.sort_unstable();
        let same = |family: &Family| {
            family.numbers == numbers && family.bare == bare && family.df.to_bits() == df.to_bits()
        };
        if let Some(index) = self.known.iter().position(same) {
            return self.known.get(index);
        }
        let distribution = MaxT::new(&numbers, bare, Sides::Two)?;
        let critical = distribution.critical_value(0.05, df)?;
        self.known.push(Family { numbers, bare, df, distribution, critical });
        self.known.last()
    }
}

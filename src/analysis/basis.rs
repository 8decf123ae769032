//! What intervals rest on: the spread between sections treated alike, and what may be said with it.

use super::groups;
use super::model::{Basis, Interval, Strength, WithinPieces};
use super::pieces::{linked, spread_within};
use super::sample::Sample;
use crate::stats::Spread;
use crate::study::Treatment;

/// Below this many degrees of freedom there are intervals and no words.
const DEGREES_FOR_WORDS: f64 = 3.0;

/// The basis for samples of changes; `level` is the largest mean that the changes were made from.
///
/// Treatments with a single section add nothing to the spread, so that products with one section
/// each are judged by the scatter of the bare ones, on sum(n - 1) degrees of freedom.
pub(super) fn basis(samples: &[Sample], level: f64) -> Basis {
    let from: Vec<Treatment> =
        samples.iter().filter(|sample| sample.values.len() > 1).map(|sample| sample.treatment).collect();
    let within = spread_within(samples);
    // With fewer degrees of freedom there would be no word, which sections that are pooled may still carry.
    let linked = linked(samples).map(|found| found.spread).filter(|spread| spread.df >= DEGREES_FOR_WORDS);
    let linked = linked.filter(|_| within.is_none());
    let spread = within.or(linked).or_else(|| groups::spread(samples));
    let strength = match spread {
        None => Strength::SectionsOnly,
        Some(spread) if spread.sd <= groups::ROUNDING * level => Strength::NoScatter,
        Some(spread) if spread.df < DEGREES_FOR_WORDS => Strength::FewDegrees,
        Some(_) => Strength::Full,
    };
    let product = |treatment: &Treatment| matches!(treatment, Treatment::Product(_));
    Basis {
        spread,
        spread_interval: spread.and_then(Spread::interval).map(|(low, high)| Interval { low, high }),
        taken_from_uncoated: linked.is_none() && !from.iter().any(product),
        from,
        strength,
        own_spreads: false,
        flat: Vec::new(),
        within: match (within, linked) {
            (Some(_), _) => WithinPieces::Even,
            (None, Some(_)) => WithinPieces::Linked,
            (None, None) => WithinPieces::No,
        },
    }
}

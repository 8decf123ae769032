//! Floor and ceiling: where sections sit at an end of the scale, a measure cannot tell them from each other.

use super::groups::Pick;
use super::model::{AtEnd, Basis, End, SectionMean, SectionSeries, Strength};
use crate::study::{Measure, Treatment};

/// A mean nearer to the end than this many of its standard uncertainties is not told apart from it.
const UNCERTAINTIES: f64 = 2.0;

/// Distances below this share of the scale are the rounding of the arithmetic.
const ROUNDING: f64 = 1e-12;

/// A measure with its sections at a round, and the number that is compared.
pub(super) type At<'a> = (&'a Measure, &'a [SectionSeries], usize, Pick);

/// How many sections with that number at the round at `place` sit at one end, where these are half of them or more.
pub(super) fn crowded(at: At<'_>) -> Option<AtEnd> {
    let ends = ends(at, |_| true);
    let of = |end: End| ends.iter().filter(|at| **at == Some(end)).count();
    let (end, n) = if of(End::Lowest) > of(End::Highest) {
        (End::Lowest, of(End::Lowest))
    } else {
        (End::Highest, of(End::Highest))
    };
    (n > 1 && 2 * n >= ends.len()).then_some(AtEnd { end, n, of: ends.len() })
}

/// The basis for comparisons of those treatments that `compared` picks: without a judgement where every section of them
/// sits at the same end.
pub(super) fn judged(basis: &Basis, at: At<'_>, compared: impl Fn(Treatment) -> bool) -> Basis {
    let ends = ends(at, compared);
    let first = ends.first().copied().flatten();
    let all = ends.len() > 1 && first.is_some() && ends.iter().all(|end| *end == first);
    let strength = if all { Strength::AtEnd } else { basis.strength };
    Basis { strength, own_spreads: basis.own_spreads && !all, ..basis.clone() }
}

/// The end at which every section of a treatment sits, several of them or one.
pub(super) fn all_of(at: At<'_>, treatment: Treatment) -> Option<End> {
    let ends = ends(at, |one| one == treatment);
    let first = ends.first().copied().flatten()?;
    ends.iter().all(|end| *end == Some(first)).then_some(first)
}

fn ends((measure, series, place, pick): At<'_>, compared: impl Fn(Treatment) -> bool) -> Vec<Option<End>> {
    let Some(scale) = measure.possible else { return Vec::new() };
    let read = series.iter().filter(|section| compared(section.treatment));
    let read = read.map(|section| &section.at[place]).filter(|at| pick(at).is_ok());
    read.filter_map(|at| at.numbers.level.ok()).map(|level| end_of(&level, scale)).collect()
}

fn end_of(level: &SectionMean, (lowest, highest): (f64, f64)) -> Option<End> {
    let uncertain = level.uncertainty.map_or(0.0, |uncertainty| UNCERTAINTIES * uncertainty.standard);
    let near = uncertain + ROUNDING * (highest - lowest).abs();
    if level.mean - lowest <= near {
        Some(End::Lowest)
    } else if highest - level.mean <= near {
        Some(End::Highest)
    } else {
        None
    }
}

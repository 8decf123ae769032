//! Sections whose readings lie far from their own other rounds and from sections that are treated alike.

use super::model::{Cell, Readings};
use crate::stats::summary;
use crate::study::{Direction, MeasureId, MeasureKind, RoundId, SectionId, SpecimensId, Study, Treatment};
use std::collections::BTreeMap;

/// How many times farther from its twins than sections usually are.
const SPREADS: f64 = 5.0;
/// So many times that distance parts two values by itself, whatever their level.
const GROSS: f64 = 10.0;
/// The median distance from the middle, times this, is the standard deviation of values that are spread normally.
const NORMAL: f64 = 1.4826;

/// A section at a round that lies far off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FarSection {
    /// Place of its cell in [`Readings::cells`].
    pub cell: usize,
    /// Its mean, in the unit of the measure.
    pub mean: f64,
    /// Least and greatest mean of its other rounds.
    pub others: (f64, f64),
    /// Least and greatest mean of the sections that are treated alike.
    pub twins: (f64, f64),
}

/// All of them, in order of the measures.
///
/// Hampel (1974), Journal of the American Statistical Association 69, 383-393, for the median distance as a spread; the factors are
/// common practice, no source.
pub fn far_sections(study: &Study, readings: &Readings) -> Vec<FarSection> {
    let judged = study.measures_with_ids().filter(|(_, measure)| {
        // Faults that grow from nothing double as a matter of course where a product fails.
        let grows = measure.direction == Direction::Lower;
        let ranked = matches!(measure.kind, MeasureKind::Rating(_) | MeasureKind::Made(_));
        !measure.broken && !grows && !ranked
    });
    judged.flat_map(|(id, _)| of_measure(study, readings, id)).collect()
}

/// The means of one measure, by round and section, with the place of their cell.
type Means<'r> = BTreeMap<(RoundId, SectionId), (usize, &'r Cell, f64)>;

fn of_measure(study: &Study, readings: &Readings, id: MeasureId) -> Vec<FarSection> {
    let cells = readings.cells().iter().enumerate().filter(|(_, cell)| cell.measure == id);
    let means: Means<'_> = cells
        .filter(|(_, cell)| {
            study.round(cell.round).date().is_none_or(|day| !has_ended(study, cell.section, day))
        })
        .filter_map(|(at, cell)| Some(((cell.round, cell.section), (at, cell, cell.kept.mean()?))))
        .collect();
    let alike = alike(study, &means);
    let twins = |cell: &Cell, mean: f64| Twins::of(alike.get(&treated(study, cell))?, mean);
    let apart: Vec<(usize, &Cell, f64, Twins)> =
        means.values().filter_map(|&(at, cell, mean)| Some((at, cell, mean, twins(cell, mean)?))).collect();
    let distances: Vec<f64> = apart.iter().map(|(_, _, mean, twins)| twins.distance(*mean)).collect();
    let Some(usual) = summary::median(&distances) else { return Vec::new() };
    let measure = study.measure(id);
    let no_matter = measure.alike.as_ref().map_or(0.0, |alike| alike.value);
    let spread = (NORMAL * usual).max(study.gauge_spread(id).unwrap_or(0.0));
    let limit = SPREADS * spread.max(no_matter);
    // Without any scatter, gauge or limit nothing says what is usual.
    if limit <= 0.0 {
        return Vec::new();
    }
    let far = Far { by: limit.max(GROSS * spread) };
    let found = apart.into_iter().filter(|(_, _, mean, twins)| twins.distance(*mean) > limit);
    let found = found.filter_map(|(at, cell, mean, twins)| {
        let others = far_from_own(&means, cell, mean, far)?;
        let all = readings.values(cell).iter().all(|&value| twins.are_far(value, far));
        all.then_some(FarSection { cell: at, mean, others, twins: twins.ends })
    });
    found.collect()
}

fn has_ended(study: &Study, section: SectionId, day: jiff::civil::Date) -> bool {
    study.ended(section).is_some_and(|ended| ended <= day)
}

/// Means of the sections that are treated alike in a round, from the smallest.
type Alike = BTreeMap<(RoundId, Treatment, Option<SpecimensId>), Vec<f64>>;

fn alike(study: &Study, means: &Means<'_>) -> Alike {
    let mut alike = Alike::new();
    for &(_, cell, mean) in means.values() {
        alike.entry(treated(study, cell)).or_default().push(mean);
    }
    for means in alike.values_mut() {
        means.sort_unstable_by(f64::total_cmp);
    }
    alike
}

fn treated(study: &Study, cell: &Cell) -> (RoundId, Treatment, Option<SpecimensId>) {
    let section = study.section(cell.section);
    (cell.round, section.treatment, section.specimen)
}

/// What the other sections that are treated alike have.
#[derive(Clone, Copy)]
struct Twins {
    /// The next smaller and the next larger value.
    near: [Option<f64>; 2],
    /// The least and the greatest.
    ends: (f64, f64),
}

impl Twins {
    /// Those of one of the values; `None` where there is no other.
    fn of(sorted: &[f64], own: f64) -> Option<Self> {
        let own_at = sorted.partition_point(|&value| value < own);
        let below = own_at.checked_sub(1).and_then(|at| sorted.get(at)).copied();
        let above = sorted.get(own_at + 1).copied();
        let least = if own_at == 0 { above } else { sorted.first().copied() };
        let greatest = if above.is_none() { below } else { sorted.last().copied() };
        Some(Self { near: [below, above], ends: (least?, greatest?) })
    }

    fn distance(self, own: f64) -> f64 {
        self.near.into_iter().flatten().map(|near| (near - own).abs()).fold(f64::INFINITY, f64::min)
    }

    fn are_far(self, value: f64, far: Far) -> bool {
        self.near.into_iter().flatten().all(|near| far.parts(value, near))
    }
}

/// Least and greatest mean of the section in its other rounds, where a value is far from each of them.
fn far_from_own(means: &Means<'_>, cell: &Cell, mean: f64, far: Far) -> Option<(f64, f64)> {
    let others =
        means.iter().filter(|((round, section), _)| *section == cell.section && *round != cell.round);
    let mut others = others.map(|(_, &(_, _, other))| other).peekable();
    others.peek()?;
    others.try_fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), other| {
        far.parts(mean, other).then_some((least.min(other), most.max(other)))
    })
}

/// What parts two values that ought to be near each other.
#[derive(Clone, Copy)]
struct Far {
    /// A distance that parts them at any level.
    by: f64,
}

impl Far {
    /// Less than half, more than double, on the other side of nothing, or apart by more than a section ever is.
    fn parts(self, value: f64, from: f64) -> bool {
        let apart = (value - from).abs();
        apart > self.by || apart > value.abs().max(from.abs()) / 2.0
    }
}

#[cfg(test)]
mod tests {
    use super::Twins;

    #[test]
    fn the_others_leave_the_own_value_out_once() {
        let of = |sorted: &[f64], own| Twins::of(sorted, own).map(|twins| (twins.near, twins.ends));
        assert_eq!(of(&[3.0], 3.0), None);
        assert_eq!(of(&[1.0, 3.0], 3.0), Some(([Some(1.0), None], (1.0, 1.0))));
        assert_eq!(of(&[1.0, 3.0, 8.0], 1.0), Some(([None, Some(3.0)], (3.0, 8.0))));
        assert_eq!(of(&[1.0, 3.0, 8.0], 8.0), Some(([Some(3.0), None], (1.0, 3.0))));
        assert_eq!(of(&[1.0, 3.0, 3.0, 8.0], 3.0), Some(([Some(1.0), Some(3.0)], (1.0, 8.0))));
    }
}

//! Readings that stand apart from the others of their cell.
//!
//! A finding needs two grounds: Grubbs' test says that the value is unusual among its cell, and the
//! gauge could not give that distance by itself. Three equal readings and a neighbour are unusual
//! in every such test, so the test alone is only a mark.

use super::model::{Cell, Readings};
use crate::stats::{grubbs, summary};
use crate::study::{Agreement, MeasureId, MeasureKind, Study};
use std::collections::BTreeMap;

/// The level of Grubbs' test, two-sided.
const LEVEL: f64 = 0.05;

/// The distance of one of three readings from the median of the other two, in standard deviations of one reading, that the
/// farthest of three honest readings passes in 5 of 100 cases.
///
/// The median of two is their mean, so that the distance is 1.5 times that from the mean of all three. Deviations from the
/// mean of three lie in a plane, 120 degrees apart, and the largest passes t with probability
/// 3 / pi x the integral of exp(-3 t^2 / (4 cos^2 a)) over a from -pi / 6 to pi / 6, which is 0.05 at t = 1.913 62: a case of
/// the extreme deviate of Nair (1948), Biometrika 35, 118-144. The critical range factor f(3) = 3.3 of ISO 5725-6:1994, table 1,
/// is for the range of all three and is not this.
const ONE_OF_THREE: f64 = 1.5 * 1.913_623_5;

/// A range of so many times the limit for two readings is no scatter, whatever the test says: of ten readings of one place not one set in
/// a million has a range of 8.4 standard deviations, and two slips hide each other from the test.
const GROSS: f64 = 3.0;

/// Where the limit for two readings comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LimitFrom {
    /// The study declares how well the gauge repeats.
    Declared,
    /// No gauge of the measure has a declared spread; the limit is 2.8 times the spread within cells.
    Pooled {
        /// Pooled standard deviation within cells, in the unit of the measure.
        spread: f64,
        /// Degrees of freedom behind it.
        df: u32,
    },
}

/// The limit for two readings of a measure, in its unit.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Limit {
    limit: f64,
    from: LimitFrom,
}

impl Limit {
    /// The limit for one of three readings against the other two.
    fn of_three(self) -> Self {
        Self { limit: self.limit / Agreement::TWO_READINGS * ONE_OF_THREE, ..self }
    }

    /// True beyond the limit. Differences of decimals carry noise, as 80.4 - 80 is 0.4000000000000057.
    fn is_passed(self, distance: f64) -> bool {
        distance - self.limit > 1e-9 * distance
    }
}

/// Which readings are meant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Suspect {
    /// The value that stands apart, in the unit of the measure.
    One(f64),
    /// Two readings that do not agree; nothing tells which is wrong.
    Pair(f64, f64),
    /// The lowest and the highest of four or more that lie too far apart; nothing tells how many of them are wrong.
    Ends(f64, f64),
}

/// What speaks against the reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Evidence {
    /// A finding: all that can be asked of this number of readings.
    Finding,
    /// Grubbs' test alone: a mark in the appendix.
    TestOnly,
}

/// One reading or pair that stands apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// Place of its cell in [`Readings::cells`].
    pub cell: usize,
    /// Which.
    pub suspect: Suspect,
    /// How much speaks against it.
    pub evidence: Evidence,
    /// Distance from the median of the others, or between the two, in the unit of the measure.
    pub distance: f64,
    /// The limit that it is held against, if one is known: for two readings, or for one of three.
    pub limit: Option<(f64, LimitFrom)>,
    /// Grubbs' statistic and its critical value, from four readings on.
    pub grubbs: Option<(f64, f64)>,
}

/// All marks of a study.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Outliers {
    /// In order of the cells.
    pub marks: Vec<Mark>,
    /// How many cells were tested by Grubbs; each of them has at most one mark, with its statistic.
    pub tested: usize,
    /// How many of the tested cells chance alone would mark.
    pub by_chance: f64,
}

/// Looks for readings that stand apart among those that were taken and not left out.
///
/// Grubbs (1969), Technometrics 11, 1-21, for four readings or more, and besides the limit for two readings after
/// ISO 5725-6:1994; that limit alone for two, and one of the same kind for three, so that at most 5 of 100 honest sections are
/// found whatever their number of readings.
pub fn outliers(study: &Study, readings: &Readings) -> Outliers {
    let (limits, usual) = (limits(study, readings), usual(study, readings));
    let mut critical = BTreeMap::new();
    let mut found = Outliers::default();
    for (at, cell) in readings.cells().iter().enumerate() {
        // Marks of a rating have steps and no gauge: by them nothing stands apart that could be told from a neighbouring mark.
        if matches!(study.measure(cell.measure).kind, MeasureKind::Rating(_)) {
            continue;
        }
        let limit = limits.get(cell.measure.index()).copied().flatten();
        let n = cell.kept.n;
        let test = if n < 4 {
            None
        } else {
            found.tested += 1;
            let one = critical.entry(n).or_insert_with(|| grubbs::critical_value(n as usize, LEVEL));
            let kept = &cell.kept;
            let statistic = kept
                .mean()
                .zip(kept.sd())
                .and_then(|(mean, sd)| grubbs::statistic(mean, sd, (kept.min, kept.max)));
            statistic.zip(*one).filter(|(statistic, critical)| statistic > critical)
        };
        let mark = if n < 4 {
            few(readings, cell, limit)
        } else {
            let usual = usual.get(cell.measure.index()).copied().unwrap_or_default();
            many(readings, cell, limit, test).or_else(|| gross(cell, limit, usual))
        };
        found.marks.extend(mark.map(|mark| Mark { cell: at, ..mark }));
    }
    found.by_chance = LEVEL * found.tested as f64;
    found
}

/// Four readings or more: the test is the door, the gauge's limit makes a finding of it.
fn many(readings: &Readings, cell: &Cell, limit: Option<Limit>, test: Option<(f64, f64)>) -> Option<Mark> {
    let test = test?;
    let values = readings.values(cell);
    let suspect = grubbs::grubbs(&values)?.index;
    let (value, distance) = apart(&values, suspect)?;
    let beyond = limit.is_some_and(|limit| limit.is_passed(distance));
    let evidence = if beyond { Evidence::Finding } else { Evidence::TestOnly };
    Some(mark(Suspect::One(value), evidence, distance, limit, Some(test)))
}

/// Four readings or more whose range neither the gauge nor the usual scatter of a section comes near.
fn gross(cell: &Cell, limit: Option<Limit>, usual: f64) -> Option<Mark> {
    let (limit, range) = (limit?, cell.kept.max - cell.kept.min);
    let ends = Suspect::Ends(cell.kept.min, cell.kept.max);
    (range > GROSS * limit.limit.max(usual)).then(|| mark(ends, Evidence::Finding, range, Some(limit), None))
}

/// Two or three readings: only the gauge's limit.
fn few(readings: &Readings, cell: &Cell, limit: Option<Limit>) -> Option<Mark> {
    let limit = limit?;
    // No distance to a median can exceed the range, so most cells end here.
    if cell.kept.n < 2 || !limit.is_passed(cell.kept.max - cell.kept.min) {
        return None;
    }
    let values = readings.values(cell);
    if let &[one, other] = values.as_slice() {
        let pair = Suspect::Pair(one, other);
        return Some(mark(pair, Evidence::Finding, other - one, Some(limit), None));
    }
    let limit = limit.of_three();
    // Of equal distances the lower value is named, as the test does.
    let (low, high) = (apart(&values, 0)?, apart(&values, values.len() - 1)?);
    let (value, distance) = if high.1 > low.1 { high } else { low };
    limit
        .is_passed(distance)
        .then(|| mark(Suspect::One(value), Evidence::Finding, distance, Some(limit), None))
}

/// A value and its distance from the median of the others.
fn apart(values: &[f64], at: usize) -> Option<(f64, f64)> {
    let value = *values.get(at)?;
    let others: Vec<f64> =
        values.iter().enumerate().filter(|&(other, _)| other != at).map(|(_, &value)| value).collect();
    summary::median(&others).map(|median| (value, (value - median).abs()))
}

fn mark(
    suspect: Suspect,
    evidence: Evidence,
    distance: f64,
    limit: Option<Limit>,
    grubbs: Option<(f64, f64)>,
) -> Mark {
    let limit = limit.map(|limit| (limit.limit, limit.from));
    Mark { cell: 0, suspect, evidence, distance, limit, grubbs }
}

/// The limit of each measure: the widest that a gauge of it declares, else from the spread within cells.
fn limits(study: &Study, readings: &Readings) -> Vec<Option<Limit>> {
    let mut pools: Vec<Option<(f64, u32)>> = vec![None; study.measures.len()];
    for cell in readings.cells() {
        if let (Some(sd), Some(pool)) = (cell.kept.sd(), pools.get_mut(cell.measure.index())) {
            let (squares, df) = pool.unwrap_or_default();
            let own = cell.kept.n - 1;
            *pool = Some((squares + sd * sd * f64::from(own), df + own));
        }
    }
    let each = study.measures_with_ids().zip(pools);
    each.map(|((id, _), pool)| declared(study, id).or_else(|| pooled(pool?))).collect()
}

/// The limit for two readings that the usual section of each measure asks for, by the median of their spreads: on a rough ground places
/// of one section differ by more than the gauge does.
fn usual(study: &Study, readings: &Readings) -> Vec<f64> {
    let mut spreads: Vec<Vec<f64>> = vec![Vec::new(); study.measures.len()];
    for cell in readings.cells() {
        if let (Some(sd), Some(own)) = (cell.kept.sd(), spreads.get_mut(cell.measure.index())) {
            own.push(sd);
        }
    }
    let median = |spreads: Vec<f64>| summary::median(&spreads).unwrap_or_default();
    spreads.into_iter().map(|spreads| Agreement::TWO_READINGS * median(spreads)).collect()
}

fn pooled((squares, df): (f64, u32)) -> Option<Limit> {
    let spread = (squares / f64::from(df)).sqrt();
    let limit = Agreement::TWO_READINGS * spread;
    (spread > 0.0).then_some(Limit { limit, from: LimitFrom::Pooled { spread, df } })
}

fn declared(study: &Study, id: MeasureId) -> Option<Limit> {
    study.gauge_limit(id).map(|limit| Limit { limit, from: LimitFrom::Declared })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::random::Generator;
    use std::f64::consts::PI;

    /// The integral by Simpson's rule; `scipy` 1.17.1 gives the same t by quadrature, and 0.050 005 of four million draws.
    #[test]
    fn the_farthest_of_three_honest_readings_passes_its_limit_in_five_of_a_hundred() {
        let t = ONE_OF_THREE / 1.5;
        let density = |angle: f64| (-0.75 * t * t / angle.cos().powi(2)).exp();
        let (steps, width) = (200_u32, PI / 3.0 / 200.0);
        let weight = |at: u32| if at == 0 || at == steps { 1.0 } else { f64::from(2 + 2 * (at % 2)) };
        let sum: f64 = (0..=steps).map(|at| weight(at) * density(-PI / 6.0 + width * f64::from(at))).sum();
        assert!((3.0 / PI * sum * width / 3.0 - 0.05).abs() < 1e-8);
        let limit = Limit { limit: Agreement::TWO_READINGS, from: LimitFrom::Declared }.of_three();
        assert!((limit.limit - ONE_OF_THREE).abs() < 1e-12);
    }

    /// 100 000 sections each with honest readings of a gauge whose spread is known.
    #[test]
    fn at_most_five_of_a_hundred_honest_sections_are_found() {
        const SECTIONS: u32 = 100_000;
        let mut random = Generator::new(7);
        let limit = Limit { limit: Agreement::TWO_READINGS, from: LimitFrom::Declared };
        for n in [2, 3, 4, 5] {
            let critical = grubbs::critical_value(n, LEVEL);
            let found = (0..SECTIONS).filter(|_| {
                let mut values: Vec<f64> = (0..n).map(|_| random.normal()).collect();
                values.sort_by(f64::total_cmp);
                match n {
                    2 => limit.is_passed(values[1] - values[0]),
                    3 => [0, 2].iter().any(|&at| {
                        apart(&values, at).is_some_and(|(_, far)| limit.of_three().is_passed(far))
                    }),
                    _ => grubbs::grubbs(&values).zip(critical).is_some_and(|(found, critical)| {
                        found.statistic > critical
                            && apart(&values, found.index).is_some_and(|(_, far)| limit.is_passed(far))
                    }),
                }
            });
            let share = found.count() as f64 / f64::from(SECTIONS);
            // Three standard errors above 5 %.
            assert!(share < 0.05 + 3.0 * (0.05 * 0.95 / f64::from(SECTIONS)).sqrt(), "{n} readings: {share}");
        }
    }
}

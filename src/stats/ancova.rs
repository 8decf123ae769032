//! Analysis of covariance: means of groups at the same value of a covariate, and their differences to a control.

use super::distributions::t_quantile;
use super::summary::{mean, sorted_sum};
use super::two_factor::{Parts, TwoFactor};
use super::{GroupMean, Spread};

/// A covariate and the value that goes with it.
pub type Point = (f64, f64);

/// Groups whose values share one slope on a covariate.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted {
    /// The common slope within groups, in the unit of the values per unit of the covariate.
    pub slope: f64,
    /// Scatter about the slope on values - groups - 1 degrees of freedom.
    pub spread: Spread,
    /// Mean of the covariate over all values, at which the adjusted means are taken.
    pub at: f64,
    /// Adjusted mean and number of every group.
    pub means: Vec<GroupMean>,
    covariate: Vec<f64>,
    /// Squares of the covariate within groups.
    squares: f64,
}

/// The adjusted difference of a group to the control.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AdjustedDifference {
    /// Place of the group.
    pub group: usize,
    /// Adjusted mean minus that of the control.
    pub difference: f64,
    /// Its standard error.
    pub error: f64,
    /// Lower end of the simultaneous interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Two-sided p value, adjusted for all groups.
    pub p: f64,
}

/// Fits one slope to all groups; `None` below two groups, where a group is empty, a number is not finite, the covariate
/// does not vary within any group, or no degree of freedom is left.
///
/// Snedecor and Cochran (1989), Statistical Methods, 8th edition, chapter 18.
pub fn adjust<G: AsRef<[Point]>>(groups: &[G]) -> Option<Adjusted> {
    let (xs, ys): (Vec<Vec<f64>>, Vec<Vec<f64>>) =
        groups.iter().map(|group| group.as_ref().iter().copied().unzip()).unzip();
    let centers: Option<Vec<Point>> = xs.iter().zip(&ys).map(|(x, y)| Some((mean(x)?, mean(y)?))).collect();
    let centers = centers?;
    let values: usize = xs.iter().map(Vec::len).sum();
    let df = values.checked_sub(groups.len() + 1).filter(|&df| df > 0 && groups.len() > 1)? as f64;
    let sum = |term: fn(f64, f64) -> f64| {
        let of = |(group, center): (&G, &Point)| -> Vec<f64> {
            group.as_ref().iter().map(|point| term(point.0 - center.0, point.1 - center.1)).collect()
        };
        sorted_sum(groups.iter().zip(&centers).flat_map(of).collect())
    };
    let squares = sum(|x, _| x * x);
    let slope = sum(|x, y| x * y) / squares;
    if !(slope.is_finite() && squares > 0.0) {
        return None;
    }
    let rest = |(group, center): (&G, &Point)| -> Vec<f64> {
        let off = |point: &Point| point.1 - center.1 - slope * (point.0 - center.0);
        group.as_ref().iter().map(|point| off(point).powi(2)).collect()
    };
    let residual = sorted_sum(groups.iter().zip(&centers).flat_map(rest).collect());
    let at = mean(&xs.concat())?;
    let adjusted =
        |(center, x): (&Point, &Vec<f64>)| GroupMean { mean: center.1 - slope * (center.0 - at), n: x.len() };
    Some(Adjusted {
        slope,
        spread: Spread { sd: (residual / df).sqrt(), df },
        at,
        means: centers.iter().zip(&xs).map(adjusted).collect(),
        covariate: centers.iter().map(|center| center.0).collect(),
        squares,
    })
}

impl Adjusted {
    /// Interval of the slope; `confidence` is a fraction.
    pub fn slope_interval(&self, confidence: f64) -> Option<(f64, f64)> {
        let half = t_quantile(f64::midpoint(1.0, confidence), self.spread.df)? * self.spread.sd
            / self.squares.sqrt();
        Some((self.slope - half, self.slope + half))
    }

    /// The largest share that the slope has in the variance of a difference to the group at `control`, 0 to 1: near 1
    /// the groups lie so far apart in the covariate that their difference is all but an extrapolation.
    pub fn farthest(&self, control: usize) -> f64 {
        let share = |group: usize| {
            let off = self.covariate[group] - self.covariate[control];
            let slope = off * off / self.squares;
            slope / (slope + 1.0 / self.means[group].n as f64 + 1.0 / self.means[control].n as f64)
        };
        (0..self.means.len()).filter(|&group| group != control).map(share).fold(0.0, f64::max)
    }

    /// The differences of all other groups to the one at `control`, with intervals that hold together at `confidence`.
    ///
    /// Two adjusted differences share the control and the slope, and nothing else. `None` where there is no scatter,
    /// or no other group.
    pub fn against(&self, control: usize, confidence: f64) -> Option<Vec<AdjustedDifference>> {
        if !self.spread.is_usable() {
            return None;
        }
        let base = *self.means.get(control)?;
        let others: Vec<usize> = (0..self.means.len()).filter(|&group| group != control).collect();
        let variance = |group: usize| {
            let off = self.covariate[group] - self.covariate[control];
            let (own, shared) = (1.0 / self.means[group].n as f64, 1.0 / base.n as f64);
            let slope = off * off / self.squares;
            (own + shared + slope, own, shared, slope.sqrt().copysign(off))
        };
        let parts = others.iter().map(|&group| {
            let (all, own, shared, slope) = variance(group);
            Parts { own: own / all, first: (shared / all).sqrt(), second: slope / all.sqrt() }
        });
        let family = TwoFactor::new(parts.collect())?;
        let critical = family.critical_value(1.0 - confidence, self.spread.df)?;
        let row = |&group: &usize| {
            let (difference, error) =
                (self.means[group].mean - base.mean, self.spread.sd * variance(group).0.sqrt());
            let half = critical * error;
            let p = family.tail(difference / error, self.spread.df)?;
            let (low, high) = (difference - half, difference + half);
            Some(AdjustedDifference { group, difference, error, low, high, p })
        };
        others.iter().map(row).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::dunnett::against_control;
    use super::super::solved::Solved;
    use super::*;

    #[test]
    fn parallel_lines_are_told_by_their_distance() {
        let line =
            |start: f64, at: &[f64]| -> Vec<Point> { at.iter().map(|&x| (x, start + 2.0 * x)).collect() };
        let found =
            adjust(&[line(5.0, &[1.0, 2.0, 4.0]), line(8.0, &[3.0, 7.0]), line(5.5, &[9.0])]).unwrap();
        assert!((found.slope - 2.0).abs() < 1e-12 && found.spread.df.to_bits() == 2.0_f64.to_bits());
        let between = |one: usize, other: usize| found.means[one].mean - found.means[other].mean;
        assert!((between(1, 0) - 3.0).abs() < 1e-12 && (between(2, 0) - 0.5).abs() < 1e-12);
        // The lines have no scatter to judge by.
        assert!(found.spread.sd < 1e-12);
    }

    /// With the same covariate in every group the comparison is Dunnett's, on one degree of freedom less.
    #[test]
    fn a_balanced_covariate_changes_no_mean() {
        let values = [[9.0, 10.5, 12.0, 11.0], [7.0, 9.0, 8.8, 9.9], [5.0, 8.0, 6.0, 7.1]];
        let groups: Vec<Vec<Point>> =
            values.iter().map(|group| [1.0, 2.0, 3.0, 4.0].into_iter().zip(*group).collect()).collect();
        let found = adjust(&groups).unwrap();
        let plain: Vec<GroupMean> =
            values.iter().map(|group| GroupMean { mean: mean(group).unwrap(), n: 4 }).collect();
        for (adjusted, plain) in found.means.iter().zip(&plain) {
            assert!((adjusted.mean - plain.mean).abs() < 1e-12);
        }
        let rows = found.against(0, 0.95).unwrap();
        let known =
            against_control(&plain[1..], plain[0], found.spread, 0.95, &mut Solved::default()).unwrap();
        for (row, known) in rows.iter().zip(known) {
            assert!(
                (row.low - known.low).abs() < 1e-4 && (row.p - known.p).abs() < 1e-5,
                "{row:?} {known:?}"
            );
        }
    }

    #[test]
    fn order_changes_no_bit_and_a_shift_of_the_covariate_no_difference() {
        let groups =
            [vec![(1.0, 3.0), (2.0, 4.5), (4.0, 6.0)], vec![(2.0, 7.0), (3.5, 8.0)], vec![(5.0, 9.9)]];
        let before = adjust(&groups).unwrap();
        let turned = groups.clone().map(|group| group.into_iter().rev().collect::<Vec<Point>>());
        assert_eq!(adjust(&turned).unwrap(), before);
        let moved = groups.map(|group| group.into_iter().map(|(x, y)| (x + 80.0, y)).collect::<Vec<Point>>());
        let (one, other) =
            (before.against(0, 0.95).unwrap(), adjust(&moved).unwrap().against(0, 0.95).unwrap());
        for (one, other) in one.iter().zip(other) {
            assert!((one.difference - other.difference).abs() < 1e-9 && (one.p - other.p).abs() < 1e-9);
        }
    }

    #[test]
    fn adjustments_that_cannot_be_made_are_none() {
        let group = |points: &[Point]| points.to_vec();
        let level = [group(&[(1.0, 2.0), (1.0, 3.0)]), group(&[(4.0, 2.0), (4.0, 5.0)])];
        assert_eq!(adjust(&level), None);
        assert_eq!(adjust(&[group(&[(1.0, 2.0), (2.0, 3.0)]), group(&[(1.0, 4.0)])]), None);
        assert_eq!(adjust(&[group(&[(1.0, 2.0), (2.0, 3.0), (5.0, 6.0)])]), None);
        assert_eq!(adjust(&[group(&[]), group(&[(1.0, 2.0), (2.0, 3.0), (5.0, 6.0)])]), None);
        let exact = adjust(&[group(&[(1.0, 1.0), (2.0, 2.0)]), group(&[(1.0, 3.0), (2.0, 4.0)])]).unwrap();
        assert_eq!(exact.against(0, 0.95), None);
    }
}

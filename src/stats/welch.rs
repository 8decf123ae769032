//! Comparisons of means whose groups do not share one spread, after Welch.

use super::distributions::{f_tail, t_quantile, t_tail};
use super::summary::{mean, sorted_sum, sum_of_squares};

/// The difference between two groups with spreads of their own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WelchDifference {
    /// Mean of the first minus mean of the second, in the unit of the measure.
    pub difference: f64,
    /// Standard error of the difference, in the same unit.
    pub error: f64,
    /// Degrees of freedom of that error, rarely whole.
    pub df: f64,
}

impl WelchDifference {
    /// The two-sided p value of the difference taken alone.
    pub fn p(&self) -> Option<f64> {
        t_tail((self.difference / self.error).abs(), self.df).map(|tail| 2.0 * tail)
    }

    /// The interval of the difference taken alone; `confidence` is a fraction, 0.95 for 95 %.
    pub fn interval(&self, confidence: f64) -> Option<(f64, f64)> {
        let half = t_quantile(f64::midpoint(1.0, confidence), self.df)? * self.error;
        Some((self.difference - half, self.difference + half))
    }
}

/// The difference between the means of `one` and `other`; `None` below two values in either, where
/// both have no spread, or where a value is not finite.
///
/// Welch (1938), Biometrika 29, 350-362; degrees of freedom by Satterthwaite (1946), Biometrics
/// Bulletin 2, 110-114.
pub fn difference(one: &[f64], other: &[f64]) -> Option<WelchDifference> {
    between(Group::of(one)?, Group::of(other)?)
}

/// A group with the square of the standard error of its mean.
#[derive(Clone, Copy, Debug)]
pub(super) struct Group {
    mean: f64,
    square: f64,
    df: f64,
}

impl Group {
    /// `None` below two values.
    pub(super) fn of(values: &[f64]) -> Option<Self> {
        let df = values.len().checked_sub(1).filter(|&df| df > 0)? as f64;
        let square = sum_of_squares(values)? / df / values.len() as f64;
        Some(Self { mean: mean(values)?, square, df })
    }
}

/// As [`difference`], of groups that are reduced already.
pub(super) fn between(one: Group, other: Group) -> Option<WelchDifference> {
    let square = one.square + other.square;
    if square <= 0.0 {
        return None;
    }
    // Shares of the sum, so that tiny and huge units neither vanish nor overflow when squared.
    let (a, b) = (one.square / square, other.square / square);
    let df = 1.0 / (a * a / one.df + b * b / other.df);
    let found = WelchDifference { difference: one.mean - other.mean, error: square.sqrt(), df };
    (found.difference / found.error).is_finite().then_some(found)
}

/// The analysis of variance of groups that do not share one spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WelchAnova {
    /// Welch's ratio.
    pub f: f64,
    /// Degrees of freedom between groups: groups - 1.
    pub df_between: f64,
    /// Degrees of freedom of the error, rarely whole.
    pub df_within: f64,
    /// P(F > f).
    pub p: f64,
}

/// Welch's analysis of variance of `groups`; `None` below two groups, where a group has fewer than
/// two values or no spread, or where a value is not finite.
///
/// Welch (1951), Biometrika 38, 330-336.
pub fn one_way<G: AsRef<[f64]>>(groups: &[G]) -> Option<WelchAnova> {
    let groups: Option<Vec<Group>> = groups.iter().map(|group| Group::of(group.as_ref())).collect();
    let groups = groups.filter(|all| all.len() >= 2 && all.iter().all(|group| group.square > 0.0))?;
    let k = groups.len() as f64;
    let sum = |term: &dyn Fn(&Group) -> f64| sorted_sum(groups.iter().map(term).collect());
    let weight = |group: &Group| 1.0 / group.square;
    let total = sum(&weight);
    let center = sum(&|g| weight(g) / total * g.mean);
    let between = sum(&|g| weight(g) * (g.mean - center).powi(2)) / (k - 1.0);
    let lambda = sum(&|g| (1.0 - weight(g) / total).powi(2) / g.df);
    let f = between / (1.0 + 2.0 * (k - 2.0) / (k * k - 1.0) * lambda);
    let df_within = (k * k - 1.0) / (3.0 * lambda);
    let p = f.is_finite().then(|| f_tail(f, k - 1.0, df_within))??;
    Some(WelchAnova { f, df_between: k - 1.0, df_within, p })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_groups_give_the_square_of_welchs_t() {
        let (one, other) = ([4.0, 5.0, 7.5, 6.0], [9.0, 8.0, 12.0]);
        let pair = difference(&one, &other).unwrap();
        let table = one_way(&[&one[..], &other[..]]).unwrap();
        assert!((table.f / (pair.difference / pair.error).powi(2) - 1.0).abs() < 1e-12);
        assert!((table.df_within / pair.df - 1.0).abs() < 1e-12);
        assert!((table.p / pair.p().unwrap() - 1.0).abs() < 1e-11);
    }

    #[test]
    fn equal_numbers_and_spreads_have_the_pooled_degrees_of_freedom() {
        let found = difference(&[1.0, 2.0, 3.0], &[5.0, 6.0, 7.0]).unwrap();
        assert!((found.df - 4.0).abs() < 1e-12 && (found.difference + 4.0).abs() < 1e-12);
        let (low, high) = found.interval(0.95).unwrap();
        assert!((f64::midpoint(low, high) + 4.0).abs() < 1e-12 && low < -4.0);
    }

    #[test]
    fn one_group_without_spread_still_compares() {
        assert!((difference(&[1.0, 1.0, 1.0], &[5.0, 6.0]).unwrap().df - 1.0).abs() < 1e-12);
    }

    #[test]
    fn comparisons_that_cannot_be_made_are_none() {
        assert_eq!(difference(&[1.0], &[2.0, 3.0]), None);
        assert_eq!(difference(&[], &[2.0, 3.0]), None);
        assert_eq!(difference(&[2.0, 2.0], &[3.0, 3.0]), None);
        assert_eq!(difference(&[2.0, f64::NAN], &[3.0, 4.0]), None);
        assert_eq!(one_way(&[[1.0, 2.0]]), None);
        assert_eq!(one_way(&[[1.0, 2.0], [3.0, 3.0]]), None);
        assert_eq!(one_way::<[f64; 2]>(&[]), None);
    }
}

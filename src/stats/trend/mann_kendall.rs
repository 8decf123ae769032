//! The test for a rise or a fall over time, after Mann and Kendall.

use super::super::distributions::normal_tail;
use super::series;

/// Up to this many values without ties the exact chance is given.
const EXACT_UP_TO: usize = 60;

/// The test of a monotonic trend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MannKendall {
    /// Number of pairs that rise minus number of pairs that fall.
    pub s: f64,
    /// Variance of `s` without a trend, corrected for ties.
    pub variance: f64,
    /// Kendall's tau-b, -1 to 1.
    pub tau: f64,
    /// Two-sided p value by the normal distribution with correction for continuity.
    pub p_normal: f64,
    /// Two-sided exact p value; `None` where values or times are tied, or there are over 60.
    pub p_exact: Option<f64>,
}

/// The test on `values` read at `times`; `None` where fewer than two times differ, all values are
/// equal, the lengths differ, or a number is not finite.
///
/// Mann (1945), Econometrica 13, 245-259; Kendall (1975), Rank Correlation Methods, 4th edition,
/// for ties and the exact distribution. The rounds are taken to be independent.
pub fn test(times: &[f64], values: &[f64]) -> Option<MannKendall> {
    let series = series(times, values)?;
    let s = kendall_s(&series);
    let (x, y) = (Ties::of(times), Ties::of(values));
    let count = series.len() as f64;
    let pairs = count * (count - 1.0) / 2.0;
    let variance = variance(count, &x, &y);
    let tau = s / ((pairs - x.pairs) * (pairs - y.pairs)).sqrt();
    if !(tau.is_finite() && variance > 0.0) {
        return None;
    }
    let z = (s.abs() - 1.0).max(0.0) / variance.sqrt();
    let untied = x.pairs + y.pairs == 0.0;
    let p_exact = (untied && series.len() <= EXACT_UP_TO).then(|| exact_p(series.len(), s));
    Some(MannKendall { s, variance, tau, p_normal: 2.0 * normal_tail(z), p_exact })
}

/// Pairs that rise minus pairs that fall; pairs of one time count nothing.
fn kendall_s(series: &[(f64, f64)]) -> f64 {
    let of_pair = |one: &(f64, f64), other: &(f64, f64)| match (one.0 < other.0, other.1 - one.1) {
        (true, rise) if rise > 0.0 => 1.0,
        (true, rise) if rise < 0.0 => -1.0,
        _ => 0.0,
    };
    let later = |(at, one): (usize, &(f64, f64))| -> f64 {
        series[at + 1..].iter().map(|other| of_pair(one, other)).sum()
    };
    series.iter().enumerate().map(later).sum()
}

/// Sums over the groups of t equal numbers.
pub(super) struct Ties {
    /// Sum of t (t - 1) / 2.
    pub(super) pairs: f64,
    /// Sum of t (t - 1) (t - 2).
    triples: f64,
    /// Sum of t (t - 1) (2 t + 5).
    weighted: f64,
}

impl Ties {
    pub(super) fn of(numbers: &[f64]) -> Self {
        let mut sorted = numbers.to_vec();
        sorted.sort_by(f64::total_cmp);
        let mut ties = Self { pairs: 0.0, triples: 0.0, weighted: 0.0 };
        for group in sorted.chunk_by(|a, b| a >= b) {
            let t = group.len() as f64;
            ties.pairs += t * (t - 1.0) / 2.0;
            ties.triples += t * (t - 1.0) * (t - 2.0);
            ties.weighted += t * (t - 1.0) * (2.0 * t + 5.0);
        }
        ties
    }
}

/// Variance of S without a trend (Kendall 1975, chapter 4).
pub(super) fn variance(n: f64, x: &Ties, y: &Ties) -> f64 {
    let pairs = n * (n - 1.0);
    let both = 2.0 * x.pairs * y.pairs / pairs;
    let triples = if n > 2.0 { x.triples * y.triples / (9.0 * pairs * (n - 2.0)) } else { 0.0 };
    (pairs * (2.0 * n + 5.0) - x.weighted - y.weighted) / 18.0 + both + triples
}

/// Two-sided exact p: the chance of an S at least as far from 0 among all orders of `n` values.
fn exact_p(n: usize, s: f64) -> f64 {
    let chances = exact_chances(n);
    let pairs = (n * (n - 1)) as f64 / 2.0;
    // S is the number of pairs less twice the number of falls.
    let far = chances.iter().enumerate().filter(|(falls, _)| pairs - 2.0 * *falls as f64 >= s.abs());
    (2.0 * far.map(|(_, chance)| chance).sum::<f64>()).min(1.0)
}

/// The chance of each number of falling pairs, 0 upwards, among all orders of `n` different values.
pub(super) fn exact_chances(n: usize) -> Vec<f64> {
    let mut chances = vec![1.0];
    for count in 2..=n {
        // The next value falls below 0, 1, ..., count - 1 of those before, each with the same chance.
        let mut next = vec![0.0; chances.len() + count - 1];
        for (falls, chance) in chances.iter().enumerate() {
            next[falls..falls + count].iter_mut().for_each(|sum| *sum += chance / count as f64);
        }
        chances = next;
    }
    chances
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_rising_values_by_hand() {
        let found = test(&[1.0, 2.0, 3.0], &[4.0, 5.0, 9.0]).unwrap();
        assert_eq!((found.s, found.tau), (3.0, 1.0));
        assert!((found.variance - 11.0 / 3.0).abs() < 1e-12);
        assert!((found.p_exact.unwrap() - 1.0 / 3.0).abs() < 1e-15);
    }

    /// Kendall (1975), appendix table 1: of the 120 orders of five, 5 in 120 have S of 8 or more.
    #[test]
    fn the_exact_chances_of_five() {
        assert!((exact_p(5, 8.0) - 10.0 / 120.0).abs() < 1e-15);
        assert!((exact_p(5, -10.0) - 2.0 / 120.0).abs() < 1e-15);
        assert!((exact_p(5, 0.0) - 1.0).abs() < 1e-15);
        assert!((exact_chances(30).iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn shift_scale_and_order_of_rows_change_nothing() {
        let (times, values) = ([0.0, 1.0, 3.0, 6.0, 7.0], [5.0, 4.0, 4.5, 2.0, 1.0]);
        let before = test(&times, &values);
        assert_eq!(test(&times.map(|t| 9.0 * t - 1.0), &values.map(|v| 2.0 * v + 50.0)), before);
        assert_eq!(test(&[7.0, 3.0, 0.0, 1.0, 6.0], &[1.0, 4.5, 5.0, 4.0, 2.0]), before);
        let turned = test(&times, &values.map(|v| -v)).unwrap();
        assert_eq!((turned.s, turned.p_exact), (-before.unwrap().s, before.unwrap().p_exact));
    }

    #[test]
    fn ties_have_no_exact_chance() {
        let found = test(&[1.0, 2.0, 3.0, 4.0], &[1.0, 2.0, 2.0, 3.0]).unwrap();
        assert_eq!((found.s, found.p_exact), (5.0, None));
        assert!((found.variance - (156.0 - 18.0) / 18.0).abs() < 1e-12);
    }

    #[test]
    fn series_without_a_trend_to_test_are_none() {
        assert_eq!((test(&[], &[]), test(&[1.0], &[1.0])), (None, None));
        assert_eq!((test(&[1.0, 2.0], &[3.0, 3.0]), test(&[1.0, 1.0], &[3.0, 4.0])), (None, None));
        assert_eq!(test(&[1.0, 2.0], &[3.0, f64::INFINITY]), None);
        assert!((test(&[1.0, 2.0], &[3.0, 4.0]).unwrap().p_normal - 1.0).abs() < 1e-15);
    }
}

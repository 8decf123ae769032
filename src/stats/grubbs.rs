//! Grubbs' test for one outlying value, two-sided.

use super::distributions::{t_quantile, t_tail};
use super::summary::{mean, sd};

/// The value farthest from the mean, and how unusual that distance is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grubbs {
    /// Largest distance from the mean over the standard deviation.
    pub statistic: f64,
    /// Where the suspect stands in the given values. Of equal distances the lower value is named,
    /// of equal values the first.
    pub index: usize,
    /// Two-sided p value by the Bonferroni bound, at most 1; exact where it is small.
    pub p: f64,
}

/// Grubbs' test on `values`; `None` below three values or where all are equal.
///
/// Grubbs (1969), Technometrics 11, 1-21; form of the NIST/SEMATECH e-Handbook, 1.3.5.17.1.
pub fn grubbs(values: &[f64]) -> Option<Grubbs> {
    let (mean, sd) = (mean(values)?, sd(values)?);
    if values.len() < 3 || sd <= 0.0 {
        return None;
    }
    let mut suspect = (0, 0.0);
    for (index, &value) in values.iter().enumerate() {
        let distance = (value - mean).abs();
        if distance > suspect.1 || (distance >= suspect.1 && value < values[suspect.0]) {
            suspect = (index, distance);
        }
    }
    let ends = values
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &value| (low.min(value), high.max(value)));
    let statistic = statistic(mean, sd, ends)?;
    Some(Grubbs { statistic, index: suspect.0, p: p_value(statistic, values.len())? })
}

/// The statistic: the larger distance of an end, the lowest or the highest value, from the mean, over the
/// standard deviation; `None` where that is not above 0.
pub fn statistic(mean: f64, sd: f64, (low, high): (f64, f64)) -> Option<f64> {
    (sd > 0.0).then(|| (mean - low).max(high - mean) / sd)
}

/// The two-sided critical value at `alpha` for `n` values; `None` below three values or unless
/// 0 < `alpha` < 1. The one-sided value at alpha is the two-sided one at twice alpha.
pub fn critical_value(n: usize, alpha: f64) -> Option<f64> {
    if n < 3 || !(alpha > 0.0 && alpha < 1.0) {
        return None;
    }
    let count = n as f64;
    let t = -t_quantile(alpha / (2.0 * count), count - 2.0)?;
    Some((count - 1.0) / (count * (1.0 + (count - 2.0) / (t * t))).sqrt())
}

/// The statistic cannot exceed (n - 1) / sqrt(n); at that bound, where all other values are equal,
/// t is infinite and p is 0.
fn p_value(statistic: f64, n: usize) -> Option<f64> {
    let n = n as f64;
    let room = (n - 1.0).powi(2) - n * statistic * statistic;
    if room <= 0.0 {
        return Some(0.0);
    }
    let t = statistic * (n * (n - 2.0) / room).sqrt();
    Some((2.0 * n * t_tail(t, n - 2.0)?).min(1.0))
}

#[cfg(test)]
mod tests {
    use super::super::random::Generator;
    use super::*;

    #[test]
    fn two_equal_readings_of_three_stand_at_the_bound() {
        let found = grubbs(&[5.0, 5.0, 8.0]).unwrap();
        assert!((found.statistic - 2.0 / 3.0_f64.sqrt()).abs() < 1e-14);
        assert_eq!(found.index, 2);
        assert!(found.p < 1e-6);
    }

    #[test]
    fn no_suspect_without_spread_or_with_too_few_values() {
        for values in [&[][..], &[1.0], &[1.0, 2.0], &[4.4; 5]] {
            assert_eq!(grubbs(values), None);
        }
        assert_eq!((critical_value(2, 0.05), critical_value(9, 0.0)), (None, None));
    }

    #[test]
    fn of_equal_distances_the_lower_value_is_named() {
        assert_eq!(grubbs(&[3.0, 2.0, 1.0]).unwrap().index, 2);
        assert_eq!(grubbs(&[1.0, 2.0, 3.0]).unwrap().index, 0);
    }

    #[test]
    fn p_at_the_critical_value_is_alpha() {
        for n in [3, 4, 8, 30] {
            let critical = critical_value(n, 0.05).unwrap();
            assert!((p_value(critical, n).unwrap() / 0.05 - 1.0).abs() < 1e-9, "n {n}");
        }
    }

    #[test]
    fn order_shift_and_scale_change_nothing() {
        let mut random = Generator::new(3);
        let mut values: Vec<f64> = (0..9).map(|_| random.normal()).collect();
        let before = grubbs(&values).unwrap();
        let suspect = values[before.index];
        for _ in 0..20 {
            random.shuffle(&mut values);
            let after = grubbs(&values).unwrap();
            assert_eq!((after.statistic, after.p), (before.statistic, before.p));
            assert_eq!(values[after.index].to_bits(), suspect.to_bits());
        }
        let moved: Vec<f64> = values.iter().map(|value| 50.0 + 4.0 * value).collect();
        assert!((grubbs(&moved).unwrap().statistic / before.statistic - 1.0).abs() < 1e-12);
    }
}

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
    let statistic = suspect.1 / sd;
    Some(Grubbs {
        statistic,
        index: suspect.0,
        p: p_value(statistic, values.len())?,
    })
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

//! The integral over the spread estimate that turns a normal probability into a studentised one.

use statrs::function::gamma::ln_gamma;

use super::quadrature::{Rule, gauss_legendre};

/// Nodes of the integral over the scale.
const ORDER: usize = 56;
/// Normal deviates beyond this one carry less than 1e-17 of the probability.
pub(super) const REACH: f64 = 8.6;
/// From here on the spread counts as known; the difference is below 1e-12.
pub(super) const KNOWN_DF: f64 = 1e13;

/// The mean over s = sqrt(chi-square / df), the estimated spread over the true one.
#[derive(Clone, Debug)]
pub(super) struct ScaleIntegral(Rule);

impl ScaleIntegral {
    pub(super) fn new() -> Self {
        Self::of_order(ORDER)
    }

    /// The same by a rule of fewer nodes, where what is integrated costs much.
    pub(super) fn of_order(order: usize) -> Self {
        Self(gauss_legendre(order))
    }

    /// The mean of `of_scale(s)` for `df` degrees of freedom, where `of_scale` falls from 1 to about
    /// exp(-(`t` s)^2 / 2).
    pub(super) fn over(&self, t: f64, df: f64, of_scale: impl Fn(f64) -> f64) -> f64 {
        nodes(&self.0, t, df).map(|(scale, weight)| weight * density(scale, df) * of_scale(scale)).sum()
    }
}

/// Nodes for the integral over the scale, cut to where the integrand is not negligible.
///
/// The integrand lies between the density of s and that density times exp(-(t s)^2 / 2), both
/// log-concave with their peaks at sqrt((df - 1) / df) and sqrt((df - 1) / (df + t^2)).
fn nodes(rule: &[(f64, f64)], t: f64, df: f64) -> impl Iterator<Item = (f64, f64)> {
    let bent = df + t * t;
    let (peak, lower_peak) = (((df - 1.0) / df).sqrt(), ((df - 1.0) / bent).sqrt());
    let low = (lower_peak - REACH / (2.0 * bent).sqrt()).max(0.0);
    let high = (peak + REACH / df.sqrt()).min(lower_peak + 1.1 * REACH / bent.sqrt());
    // Near a range that starts at 0 the density is a power of s; squaring the variable smooths it.
    let span = high - low;
    rule.iter().map(move |(node, weight)| {
        let x = f64::midpoint(1.0, *node);
        if low > 0.0 { (low + span * x, weight * span / 2.0) } else { (high * x * x, weight * high * x) }
    })
}

/// Density of s = sqrt(chi-square / df) at `scale` (Johnson, Kotz and Balakrishnan 1994,
/// Continuous Univariate Distributions 1, chapter 18).
fn density(scale: f64, df: f64) -> f64 {
    let off = scale - 1.0;
    let log = if off.abs() < 0.5 { off.ln_1p() } else { scale.ln() };
    2.0 * (log_constant(df / 2.0) + df * (log - off - off * off / 2.0)).exp() / scale
}

/// h ln h - h - ln Gamma(h); by Stirling's series where the three terms would cancel (Abramowitz
/// and Stegun 1964, 6.1.41).
fn log_constant(h: f64) -> f64 {
    if h < 20.0 {
        return h * h.ln() - h - ln_gamma(h);
    }
    let square = h * h;
    let series = (1.0 / 12.0 - (1.0 / 360.0 - (1.0 / 1260.0 - 1.0 / 1680.0 / square) / square) / square) / h;
    0.5 * (h / std::f64::consts::TAU).ln() - series
}

/// The chance of one or the other of two independent events, without the loss of digits of
/// 1 - (1 - a)(1 - b).
pub(super) fn either(a: f64, b: f64) -> f64 {
    a + b * (1.0 - a)
}

/// The chance of at least one of `times` independent events of chance `one`, by doubling.
pub(super) fn repeated(one: f64, times: usize) -> f64 {
    let (mut any, mut power, mut left) = (0.0, one, times);
    while left > 0 {
        if left % 2 == 1 {
            any = either(any, power);
        }
        power = either(power, power);
        left /= 2;
    }
    any
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_density_integrates_to_one() {
        for df in [1.0, 2.0, 5.0, 40.0, 41.0, 1e4, 1e8] {
            let mass = ScaleIntegral::new().over(0.0, df, |_| 1.0);
            assert!((mass - 1.0).abs() < 1e-11, "df {df}: {mass}");
        }
    }

    #[test]
    fn at_least_one_of_several_is_one_minus_none() {
        for times in [1_usize, 2, 3, 7, 28] {
            let expected = 1.0 - 0.7_f64.powf(times as f64);
            assert!((repeated(0.3, times) - expected).abs() < 1e-14);
        }
        assert!((repeated(1e-300, 5) / 5e-300 - 1.0).abs() < 1e-14);
    }
}

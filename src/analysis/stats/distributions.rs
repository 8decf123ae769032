//! Normal, Student t, F and chi-square distributions: tails and quantiles.
//!
//! Tails are computed as tails, never as one minus a probability near one, so that small p values
//! keep their digits.

use std::f64::consts::{FRAC_1_SQRT_2, SQRT_2, TAU};

use statrs::function::{beta::beta_reg, erf::erfc_inv, gamma::gamma_ur};

use super::error_function::erfc;
use super::roots::root;

/// From here on the incomplete beta function loses digits, and the expansion about the normal
/// distribution has gained them.
const LARGE_DF: f64 = 1e5;

/// P(Z > z) of the standard normal distribution (Abramowitz and Stegun 1964, 26.2.3 and 26.2.29).
pub fn normal_tail(z: f64) -> f64 {
    0.5 * erfc(z * FRAC_1_SQRT_2)
}

/// P(Z <= z) of the standard normal distribution.
pub fn normal_cdf(z: f64) -> f64 {
    normal_tail(-z)
}

/// Density of the standard normal distribution.
pub(super) fn normal_density(z: f64) -> f64 {
    (-z * z / 2.0).exp() / TAU.sqrt()
}

/// The z with P(Z <= z) = `p`; `None` unless 0 < `p` < 1.
///
/// A rational starting value, polished by one step of Newton on [`normal_tail`].
pub fn normal_quantile(p: f64) -> Option<f64> {
    if !(p > 0.0 && p < 1.0) {
        return None;
    }
    let tail = p.min(1.0 - p);
    let start = SQRT_2 * erfc_inv(2.0 * tail);
    let step = (normal_tail(start) - tail) / normal_density(start);
    let z = if step.is_finite() {
        start + step
    } else {
        start
    };
    Some(if p < 0.5 { -z } else { z })
}

/// P(T > t) of Student's t with `df` degrees of freedom, infinity included; `None` unless `df` > 0
/// and `t` is finite.
///
/// By the incomplete beta function (Abramowitz and Stegun 1964, 26.5.27); above 1e5 degrees of
/// freedom by Fisher's expansion (26.7.5 there, two terms).
pub fn t_tail(t: f64, df: f64) -> Option<f64> {
    if !t.is_finite() || df.is_nan() || df <= 0.0 {
        return None;
    }
    let beyond = t_tail_of_positive(t.abs(), df);
    Some(if t < 0.0 { 1.0 - beyond } else { beyond })
}

fn t_tail_of_positive(t: f64, df: f64) -> f64 {
    let square = t * t;
    if df.is_infinite() {
        normal_tail(t)
    } else if df > LARGE_DF {
        let first = t * (square + 1.0) / (4.0 * df);
        let polynomial = ((3.0 * square - 5.0) * square - 7.0) * square - 3.0;
        let second = t * polynomial / (96.0 * df * df);
        normal_tail(t) + normal_density(t) * (first + second)
    } else if square < 1.0 {
        0.5 - 0.5 * beta_reg(0.5, df / 2.0, square / (df + square))
    } else {
        0.5 * beta_reg(df / 2.0, 0.5, 1.0 / (1.0 + square / df))
    }
}

/// P(T <= t) of Student's t with `df` degrees of freedom; see [`t_tail`].
pub fn t_cdf(t: f64, df: f64) -> Option<f64> {
    t_tail(-t, df)
}

/// The t with P(T <= t) = `p` for `df` degrees of freedom, infinity included; `None` unless
/// 0 < `p` < 1, `df` > 0 and the quantile is a finite number.
///
/// Solved on the logarithms of t and of its tail, which is close to a straight line.
pub fn t_quantile(p: f64, df: f64) -> Option<f64> {
    let z = normal_quantile(p)?.abs();
    if z == 0.0 || df.is_infinite() {
        return normal_quantile(p);
    }
    let tail = p.min(1.0 - p);
    let excess =
        |log_t: f64| t_tail(log_t.exp(), df).map_or(f64::NAN, |beyond| (beyond / tail).ln());
    // The tails of t are heavier than those of the normal distribution, so z lies below t.
    let low = z.ln() - 1e-6;
    let high = (1..60)
        .map(|step| low + f64::from(step))
        .find(|&log_t| excess(log_t) < 0.0)?;
    let t = root(excess, high - 1.0, high)?.exp();
    Some(if p < 0.5 { -t } else { t })
}

/// P(F > f) of the F distribution with `df1` and `df2` degrees of freedom (Abramowitz and Stegun
/// 1964, 26.6.2); `None` unless both are positive and finite and `f` is not negative.
pub fn f_tail(f: f64, df1: f64, df2: f64) -> Option<f64> {
    let valid = f >= 0.0 && df1 > 0.0 && df2 > 0.0 && df1.is_finite() && df2.is_finite();
    valid.then(|| beta_reg(df2 / 2.0, df1 / 2.0, df2 / (df2 + df1 * f)))
}

/// P(X > x) of chi-square with `df` degrees of freedom (Abramowitz and Stegun 1964, 26.4.19);
/// `None` unless `df` is positive and finite and `x` is finite and not negative.
pub fn chi_square_tail(x: f64, df: f64) -> Option<f64> {
    let valid = x.is_finite() && x >= 0.0 && df > 0.0 && df.is_finite();
    valid.then(|| {
        if x > 0.0 {
            gamma_ur(df / 2.0, x / 2.0)
        } else {
            1.0
        }
    })
}

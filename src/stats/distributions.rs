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
    let z = if step.is_finite() { start + step } else { start };
    Some(if p < 0.5 { -z } else { z })
}

/// P(T > t) of Student's t with `df` degrees of freedom, infinity included; `None` unless `df` > 0
/// and `t` is finite.
///
/// By the incomplete beta function (Abramowitz and Stegun 1964, 26.5.27); above 1e5 degrees of
/// freedom by two terms of the expansion of Fisher (1925), Metron 5, 109-112.
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
        let polynomial = ((3.0 * square - 7.0) * square - 5.0) * square - 3.0;
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
    let excess = |log_t: f64| t_tail(log_t.exp(), df).map_or(f64::NAN, |beyond| (beyond / tail).ln());
    // The tails of t are heavier than those of the normal distribution, so z lies below t.
    let low = z.ln() - 1e-6;
    let high = (1..60).map(|step| low + f64::from(step)).find(|&log_t| excess(log_t) < 0.0)?;
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
    valid.then(|| if x > 0.0 { gamma_ur(df / 2.0, x / 2.0) } else { 1.0 })
}

/// The x with P(X > x) = `tail` for chi-square with `df` degrees of freedom; `None` unless
/// 0 < `tail` < 1, `df` is positive and finite and the quantile is a finite number above 0.
pub fn chi_square_quantile(tail: f64, df: f64) -> Option<f64> {
    if !(tail > 0.0 && tail < 1.0 && df > 0.0 && df.is_finite()) {
        return None;
    }
    let excess = |log_x: f64| chi_square_tail(log_x.exp(), df).map_or(f64::NAN, |beyond| beyond - tail);
    let middle = df.ln();
    let low = (0..200).map(|step| middle - f64::from(step)).find(|&log_x| excess(log_x) > 0.0)?;
    let high = (1..60).map(|step| middle + f64::from(step)).find(|&log_x| excess(log_x) < 0.0)?;
    Some(root(excess, low, high)?.exp())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(value: Option<f64>, expected: f64, relative: f64) {
        let value = value.unwrap();
        assert!((value / expected - 1.0).abs() < relative, "{value:e} instead of {expected:e}");
    }

    /// Computed with mpmath 1.4.1 at 40 digits.
    #[test]
    fn normal_tails_and_quantiles() {
        close(Some(normal_tail(1.0)), 0.158_655_253_931_457_05, 2e-15);
        // The rounding of z alone moves this tail by z^2 x 2e-16.
        close(Some(normal_tail(12.0)), 1.776_482_112_077_679e-33, 3e-14);
        close(Some(normal_cdf(-5.0)), 2.866_515_718_791_939e-7, 1e-14);
        close(normal_quantile(0.025), -1.959_963_984_540_054_2, 1e-15);
        close(normal_quantile(0.99), 2.326_347_874_040_841, 1e-14);
        close(normal_quantile(1e-300), -37.047_096_299_361_2, 1e-14);
        assert_eq!(normal_quantile(0.5), Some(0.0));
    }

    /// Computed with mpmath 1.4.1 at 40 digits.
    #[test]
    fn tails_of_t() {
        for (df, t, expected, relative) in [
            (1.0, 12.7, 0.025_012_163_844_672_08, 1e-14),
            (3.0, 4.5, 0.010_245_206_172_226_705, 1e-14),
            (30.0, 10.0, 2.287_625_704_114_806_6e-11, 1e-12),
            (37.0, 4.655, 2.036_903_023_256_827_3e-5, 1e-12),
            (1e4, 2.0, 0.022_763_630_330_717_72, 1e-11),
            (1e6, 2.0, 0.022_750_266_925_659_604, 1e-11),
            (1e6, 5.0, 2.866_998_935_445_371e-7, 1e-11),
            (1e8, 2.0, 0.022_750_133_297_953_376, 1e-12),
        ] {
            close(t_tail(t, df), expected, relative);
            close(t_cdf(t, df), 1.0 - expected, 1e-12);
        }
        assert_eq!(t_tail(0.0, 4.0), Some(0.5));
        assert_eq!(t_tail(1.3, f64::INFINITY), Some(normal_tail(1.3)));
    }

    /// Computed with mpmath 1.4.1 at 40 digits.
    #[test]
    fn quantiles_of_t() {
        close(t_quantile(0.975, 1.0), 12.706_204_736_174_705, 1e-13);
        close(t_quantile(0.025, 3.0), -3.182_446_305_283_709_6, 1e-13);
        close(t_quantile(0.975, 30.0), 2.042_272_456_301_238, 1e-12);
        close(t_quantile(0.975, 1e4), 1.960_201_239_890_626_2, 1e-10);
        close(t_quantile(0.975, f64::INFINITY), 1.959_963_984_540_054_2, 1e-14);
    }

    #[test]
    fn quantiles_turn_tails_back() {
        for df in [1.0, 2.0, 2.6, 7.0, 63.0, 2e5] {
            for p in [1e-9, 1e-4, 0.2, 0.499, 0.6, 0.999] {
                close(t_cdf(t_quantile(p, df).unwrap(), df), p, 1e-10);
            }
        }
    }

    /// With two degrees of freedom both tails have a closed form.
    #[test]
    fn closed_forms_of_f_and_chi_square() {
        for x in [0.1_f64, 1.0, 7.988, 60.0] {
            close(chi_square_tail(x, 2.0), (-x / 2.0).exp(), 1e-13);
            close(f_tail(x, 2.0, 9.0), (1.0 + 2.0 * x / 9.0).powf(-4.5), 1e-12);
        }
        assert_eq!((chi_square_tail(0.0, 3.0), f_tail(0.0, 3.0, 3.0)), (Some(1.0), Some(1.0)));
        for tail in [1e-6_f64, 0.025, 0.5, 0.975] {
            close(chi_square_quantile(tail, 2.0), -2.0 * tail.ln(), 1e-10);
        }
        assert_eq!((chi_square_quantile(0.0, 2.0), chi_square_quantile(0.5, 0.0)), (None, None));
    }

    #[test]
    fn arguments_outside_the_range_give_nothing() {
        for p in [0.0, 1.0, -0.1, f64::NAN] {
            assert_eq!((normal_quantile(p), t_quantile(p, 3.0)), (None, None));
        }
        for df in [0.0, -1.0, f64::NAN] {
            assert_eq!((t_tail(1.0, df), t_quantile(0.9, df)), (None, None));
            assert_eq!((f_tail(1.0, df, 2.0), chi_square_tail(1.0, df)), (None, None));
        }
        assert_eq!((t_tail(f64::NAN, 2.0), f_tail(-1.0, 2.0, 2.0)), (None, None));
    }
}

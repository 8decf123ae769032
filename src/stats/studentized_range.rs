//! The studentised range: the distance from the smallest to the largest of several means, over their spread.

use super::distributions::{normal_density, normal_tail, t_quantile};
use super::quadrature::{gauss_legendre, panels};
use super::roots::root;
use super::scale::{KNOWN_DF, REACH, ScaleIntegral, repeated};
use super::tabled::{FINE, TabledTail};
use std::sync::{Arc, OnceLock};

/// Nodes on one panel of the integral over the largest mean.
const PANEL_ORDER: usize = 16;
/// Width of a panel, in standard deviations of a mean.
const PANEL_WIDTH: f64 = 2.0;
/// A range of known spread beyond this one has no chance that a number could hold.
const FARTHEST: f64 = 60.0;
/// Up to here the tail of a range is well above the smallest number.
const TABLED: f64 = 51.0;

/// The distribution of (largest - smallest) / s for `k` independent means of equal standard error
/// and an estimate s of that error.
///
/// Tukey (1953), The Problem of Multiple Comparisons; the two integrals as in Copenhaver and
/// Holland (1988), Journal of Statistical Computation and Simulation 30, 1-15, here over the upper
/// tail and by fixed Gauss-Legendre rules: every run gives the same result.
#[derive(Clone, Debug)]
pub struct StudentizedRange {
    k: usize,
    /// Places of the largest mean with the weight of the place: rule x density of the largest.
    largest: Vec<Place>,
    scale: ScaleIntegral,
    known_spread: TabledTail,
}

/// Ranges of fewer means than this are kept for as long as the program runs.
const KEPT: usize = 128;

/// What was worked out of a range so far. A range depends on its number of means alone, so that whoever asks is given the same; a study
/// asks for one at each round of each measure, and its table costs far more than what is read off it.
static KNOWN: [OnceLock<Arc<StudentizedRange>>; KEPT] = [const { OnceLock::new() }; KEPT];

#[derive(Clone, Copy, Debug)]
struct Place {
    z: f64,
    /// P(Z <= z).
    below: f64,
    weight: f64,
}

impl StudentizedRange {
    /// The distribution for `k` means; `None` below two.
    pub fn of(k: usize) -> Option<Arc<Self>> {
        let Some(known) = KNOWN.get(k) else { return Self::new(k).map(Arc::new) };
        if let Some(range) = known.get() {
            return Some(Arc::clone(range));
        }
        let range = Arc::new(Self::new(k)?);
        Some(Arc::clone(known.get_or_init(|| range)))
    }

    fn new(k: usize) -> Option<Self> {
        if k < 2 {
            return None;
        }
        let rule = panels(&gauss_legendre(PANEL_ORDER), -REACH, REACH + FARTHEST / 2.0, PANEL_WIDTH);
        let others = i32::try_from(k - 1).ok()?;
        let place = |(z, weight): (f64, f64)| {
            let below = normal_tail(-z);
            Place { z, below, weight: weight * k as f64 * normal_density(z) * below.powi(others) }
        };
        let largest = rule.into_iter().map(place).collect();
        let (scale, known_spread) = (ScaleIntegral::new(), TabledTail::new(0.25, TABLED, FINE));
        Some(Self { k, largest, scale, known_spread })
    }

    /// P(range > `q`) with `df` degrees of freedom, infinity included; `None` unless `df` is at
    /// least 1 and `q` is finite and not negative.
    ///
    /// Computed as a tail, so that small p values keep their digits.
    pub fn tail(&self, q: f64, df: f64) -> Option<f64> {
        if !(q.is_finite() && q >= 0.0 && df >= 1.0) {
            return None;
        }
        // A q beyond this one would overflow when squared, and its chance is 0 either way.
        let q = q.min(1e100);
        if df > KNOWN_DF {
            return Some(self.normal_tail(q).clamp(0.0, 1.0));
        }
        let t = q / std::f64::consts::SQRT_2;
        let of_scale = |scale: f64| self.known_spread.at(q * scale, |r| self.normal_tail(r));
        Some(self.scale.over(t, df, of_scale).clamp(0.0, 1.0))
    }

    /// P(range <= `q`); see [`Self::tail`].
    pub fn cdf(&self, q: f64, df: f64) -> Option<f64> {
        self.tail(q, df).map(|beyond| 1.0 - beyond)
    }

    /// The q that the range exceeds with probability `alpha`; `None` unless 0 < `alpha` < 1 and
    /// `df` is at least 1.
    ///
    /// It lies between the value for one pair and Bonferroni's for all pairs.
    pub fn critical_value(&self, alpha: f64, df: f64) -> Option<f64> {
        if !(alpha > 0.0 && alpha < 1.0 && df >= 1.0) {
            return None;
        }
        let pairs = (self.k * (self.k - 1)) as f64 / 2.0;
        let of_t = |chance: f64| t_quantile(chance, df).map(|t| -t * std::f64::consts::SQRT_2);
        let (low, high) = (of_t(alpha / 2.0)?, of_t(alpha / 2.0 / pairs)?);
        let margin = 1e-7 * (1.0 + high);
        let excess = |q: f64| self.tail(q, df).map_or(f64::NAN, |chance| (chance / alpha).ln());
        root(excess, (low - margin).max(0.0), high + margin)
    }

    /// P(range > `r`) where the spread is known: with the largest mean at z, the chance that any
    /// of the others, all known to lie below z, lies below z - r.
    fn normal_tail(&self, r: f64) -> f64 {
        let r = r.min(FARTHEST);
        // Beyond this place the density of the largest has fallen below what can be added.
        let last = REACH + r / 2.0;
        let places = self.largest.iter().take_while(|place| place.z < last);
        places.map(|p| p.weight * repeated(normal_tail(r - p.z) / p.below, self.k - 1)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::super::distributions::t_tail;
    use super::*;

    fn range(k: usize) -> Arc<StudentizedRange> {
        StudentizedRange::of(k).unwrap()
    }

    #[test]
    fn a_tabled_tail_is_the_tail() {
        for k in [2, 5, 40, 300] {
            let range = range(k);
            for step in 0..3_000 {
                let r = 0.0187 * f64::from(step);
                let exact = range.normal_tail(r);
                let tabled = range.known_spread.at(r, |r| range.normal_tail(r));
                let most = 2e-13 * exact + f64::MIN_POSITIVE;
                assert!((tabled - exact).abs() < most, "{k} means, {r}: {tabled:e} for {exact:e}");
            }
        }
    }

    #[test]
    fn the_range_of_two_is_the_t_test() {
        for df in [1.0, 2.0, 4.5, 16.0, 300.0, f64::INFINITY] {
            for q in [0.0, 0.4, 2.0, 6.0, 30.0] {
                let expected = 2.0 * t_tail(q / std::f64::consts::SQRT_2, df).unwrap();
                let value = range(2).tail(q, df).unwrap();
                assert!((value - expected).abs() < 2e-11, "df {df}, q {q}: {value:e}, {expected:e}");
            }
        }
    }

    #[test]
    fn one_mean_more_raises_the_critical_value() {
        let mut before = 0.0;
        for k in [2, 3, 4, 9, 20, 41, 100] {
            let critical = range(k).critical_value(0.05, 5.0).unwrap();
            assert!(critical > before, "{k} means");
            before = critical;
        }
    }

    #[test]
    fn the_chance_at_the_critical_value_is_alpha() {
        for df in [1.0, 3.0, 24.0, f64::INFINITY] {
            for alpha in [0.9, 0.05, 1e-5] {
                let critical = range(7).critical_value(alpha, df).unwrap();
                assert!((range(7).tail(critical, df).unwrap() / alpha - 1.0).abs() < 1e-9);
                assert!((range(7).cdf(critical, df).unwrap() - 1.0 + alpha).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn ends_of_the_range() {
        for df in [1.0, 6.0, 1e14] {
            assert!((range(5).tail(0.0, df).unwrap() - 1.0).abs() < 1e-11);
            assert!(range(5).tail(f64::MAX, df).unwrap() < 1e-90);
        }
    }

    #[test]
    fn arguments_outside_the_range_give_nothing() {
        assert!(StudentizedRange::of(0).is_none() && StudentizedRange::of(1).is_none());
        let three = range(3);
        for (q, df) in [(f64::NAN, 4.0), (-1.0, 4.0), (1.0, 0.5), (1.0, f64::NAN)] {
            assert_eq!(three.tail(q, df), None);
        }
        assert_eq!((three.critical_value(0.0, 4.0), three.critical_value(0.05, 0.0)), (None, None));
    }
}

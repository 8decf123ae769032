//! The largest of several t statistics that share one control and one spread estimate.

use super::distributions::{normal_density, normal_tail, t_quantile};
use super::quadrature::{Rule, gauss_legendre, panels};
use super::roots::root;
use super::scale::{KNOWN_DF, REACH, ScaleIntegral, either, repeated};
use super::tabled::{FINE, TabledTail};

/// Nodes on one panel of the integral over the common normal variable.
const PANEL_ORDER: usize = 16;
/// Up to here a tail of a normal variable is well above the smallest number.
const TABLED: f64 = 36.0;

/// Which differences from the control count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sides {
    /// Differences in both directions: the distribution of max |t|.
    Two,
    /// Differences above the control: the distribution of max t.
    Upper,
}

/// The multivariate t distribution of all comparisons of groups with one control.
///
/// The correlation of two comparisons is `lambda_i` x `lambda_j` with
/// `lambda_i` = sqrt(`n_i` / (`n_i` + `n_0`)): Dunnett (1955), Journal of the American Statistical
/// Association 50, 1096-1121; unequal numbers as in Hochberg and Tamhane (1987), Multiple
/// Comparison Procedures, appendix 3. Both integrals are taken by Gauss-Legendre rules, so the
/// result is the same on every run.
#[derive(Clone, Debug)]
pub struct MaxT {
    sides: Sides,
    /// Groups with the same loading count once, with their number.
    loadings: Vec<Loading>,
    groups: usize,
    panel: Rule,
    scale: ScaleIntegral,
    known_spread: TabledTail,
}

/// What [`MaxT::sharing`] asks for, of differences from a control; not a number where a group or the control is empty.
pub(super) fn shared(ns: &[usize], control: usize) -> Vec<f64> {
    let of = |n: usize| if n == 0 { f64::NAN } else { n as f64 / control as f64 };
    ns.iter().map(|&n| of(n)).collect()
}

#[derive(Clone, Copy, Debug)]
struct Loading {
    lambda: f64,
    /// sqrt(1 - lambda^2), the part of a statistic that is its group's own.
    own: f64,
    groups: usize,
}

impl MaxT {
    /// The distribution for groups of `ns` values against a control of `control` values; `None`
    /// where there is no group or a number is 0.
    pub fn new(ns: &[usize], control: usize, sides: Sides) -> Option<Self> {
        Self::sharing(&shared(ns, control), sides)
    }

    /// The same where `shared` says of every comparison how many times the variance of its group's mean the control adds to it:
    /// `n_i` / `n_0` of a difference, so that `lambda_i` = sqrt(`shared_i` / (1 + `shared_i`)). `None` where there is no comparison,
    /// or one of these is negative or not finite.
    pub fn sharing(shared: &[f64], sides: Sides) -> Option<Self> {
        if shared.is_empty() || !shared.iter().all(|shared| shared.is_finite() && *shared >= 0.0) {
            return None;
        }
        let mut sorted = shared.to_vec();
        sorted.sort_unstable_by(f64::total_cmp);
        let loadings = sorted.chunk_by(|a, b| a.to_bits() == b.to_bits()).map(|same| {
            let whole = 1.0 + same[0];
            Loading { lambda: (same[0] / whole).sqrt(), own: (1.0 / whole).sqrt(), groups: same.len() }
        });
        Some(Self {
            sides,
            loadings: loadings.collect(),
            groups: shared.len(),
            panel: gauss_legendre(PANEL_ORDER),
            scale: ScaleIntegral::new(),
            known_spread: TabledTail::new(0.5, TABLED, FINE),
        })
    }

    /// P(max > `t`) with `df` degrees of freedom, infinity included: the adjusted p value of a
    /// statistic `t`. `None` unless `df` is at least 1 and `t` is finite.
    ///
    /// For `Sides::Two` the sign of `t` is ignored.
    pub fn tail(&self, t: f64, df: f64) -> Option<f64> {
        if !t.is_finite() || df.is_nan() || df < 1.0 {
            return None;
        }
        let t = if self.sides == Sides::Two { t.abs() } else { t };
        // A t beyond this one would overflow when squared, and its chance is 0 either way.
        let t = t.clamp(-1e100, 1e100);
        if df > KNOWN_DF {
            return Some(self.normal_tail(t).clamp(0.0, 1.0));
        }
        // Below 0 the chance that none exceeds t is the small one, and the one that is integrated.
        let of_scale = |scale: f64| {
            let any = self.known_spread.at(t * scale, |u| self.normal_tail(u));
            if t < 0.0 { 1.0 - any } else { any }
        };
        let sum = self.scale.over(t, df, of_scale);
        let chance = if t < 0.0 { 1.0 - sum } else { sum };
        Some(chance.clamp(0.0, 1.0))
    }

    /// The value that max exceeds with probability `alpha`; `None` unless 0 < `alpha` < 1 and `df`
    /// is at least 1.
    ///
    /// It lies between the value for a single comparison and Bonferroni's for all of them.
    pub fn critical_value(&self, alpha: f64, df: f64) -> Option<f64> {
        if !(alpha > 0.0 && alpha < 1.0) || df.is_nan() || df < 1.0 {
            return None;
        }
        let single = if self.sides == Sides::Two { alpha / 2.0 } else { alpha };
        let low = -t_quantile(single, df)?;
        let high = -t_quantile(single / self.groups as f64, df)?;
        let margin = 1e-7 * (1.0 + high.abs());
        let excess = |t: f64| self.tail(t, df).map_or(f64::NAN, |chance| (chance / alpha).ln());
        root(excess, (low - margin).max(self.least()), high + margin)
    }

    fn least(&self) -> f64 {
        if self.sides == Sides::Two { 0.0 } else { f64::NEG_INFINITY }
    }

    /// P(max > `u`) where the spread is known: the integral over the normal variable that the
    /// control adds to every comparison.
    fn normal_tail(&self, u: f64) -> f64 {
        // Farther out every tail underflows, and the range to integrate would have no end.
        let u = u.clamp(-40.0, 40.0);
        let steepest = self.loadings.iter().map(|l| l.own / l.lambda).fold(f64::INFINITY, f64::min);
        let high = self.loadings.iter().map(|l| l.lambda * u + l.own * REACH).fold(REACH, f64::max);
        let width = (4.0 * steepest).min(3.0);
        // The two-sided integrand is even in the common variable.
        let (low, copies) = if self.sides == Sides::Two { (0.0, 2.0) } else { (-REACH, 1.0) };
        let sum: f64 = panels(&self.panel, low, high, width)
            .into_iter()
            .map(|(common, weight)| weight * normal_density(common) * self.any_beyond(u, common))
            .sum();
        copies * sum
    }

    /// The chance that any comparison exceeds `u`, given the common variable.
    fn any_beyond(&self, u: f64, common: f64) -> f64 {
        self.loadings.iter().fold(0.0, |any, loading| {
            let shift = loading.lambda * common;
            let above = normal_tail((u - shift) / loading.own);
            let one = match self.sides {
                Sides::Two => (above + normal_tail((u + shift) / loading.own)).min(1.0),
                Sides::Upper => above,
            };
            either(any, repeated(one, loading.groups))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::distributions::t_tail;
    use super::*;

    fn two_sided(ns: &[usize], control: usize) -> MaxT {
        MaxT::new(ns, control, Sides::Two).unwrap()
    }

    #[test]
    fn one_comparison_is_the_t_test() {
        for df in [1.0, 1.5, 2.0, 3.0, 17.0, 37.0, 400.0, f64::INFINITY] {
            for t in [0.0, 0.3, 2.0, 7.0, 40.0] {
                let single = t_tail(t, df).unwrap();
                let two = two_sided(&[2], 6).tail(t, df).unwrap();
                assert!((two - 2.0 * single).abs() < 2e-11, "df {df}, t {t}: {two:e}");
                let upper = MaxT::new(&[2], 6, Sides::Upper).unwrap();
                assert!((upper.tail(t, df).unwrap() - single).abs() < 2e-11);
                assert!((upper.tail(-t, df).unwrap() - (1.0 - single)).abs() < 2e-11);
            }
        }
    }

    #[test]
    fn two_upper_comparisons_at_zero_follow_the_orthant_formula() {
        for (ns, control) in [([1, 1], 1), ([2, 7], 3), ([5, 5], 1)] {
            let upper = MaxT::new(&ns, control, Sides::Upper).unwrap();
            let correlation: f64 = ns.iter().map(|&n| (n as f64 / (n + control) as f64).sqrt()).product();
            let expected = 0.75 - correlation.asin() / std::f64::consts::TAU;
            for df in [1.0, 6.0, f64::INFINITY] {
                assert!((upper.tail(0.0, df).unwrap() - expected).abs() < 1e-11);
            }
        }
    }

    #[test]
    fn many_degrees_of_freedom_approach_the_known_spread() {
        let family = two_sided(&[2, 2, 5], 4);
        let known = family.critical_value(0.05, f64::INFINITY).unwrap();
        let mut before = f64::INFINITY;
        for df in [1e2, 1e4, 1e6, 1e8] {
            let off = family.critical_value(0.05, df).unwrap() - known;
            assert!(off > 0.0 && off < before && off < 4.0 / df, "df {df}: {off:e}");
            before = off;
        }
    }

    #[test]
    fn one_group_more_raises_the_critical_value_up_to_forty() {
        for sides in [Sides::Two, Sides::Upper] {
            let mut before = f64::NEG_INFINITY;
            for groups in [1, 2, 3, 5, 12, 13, 28, 40] {
                let family = MaxT::new(&vec![2; groups], 6, sides).unwrap();
                let critical = family.critical_value(0.05, 5.0).unwrap();
                assert!(critical > before, "{groups} groups");
                before = critical;
            }
        }
    }

    #[test]
    fn the_order_of_groups_changes_no_bit() {
        let (one, other) = (two_sided(&[2, 3, 2, 9], 4), two_sided(&[9, 2, 3, 2], 4));
        assert_eq!(one.critical_value(0.05, 8.0), other.critical_value(0.05, 8.0));
        assert_eq!(one.tail(2.5, 8.0), other.tail(2.5, 8.0));
    }

    #[test]
    fn the_chance_at_the_critical_value_is_alpha() {
        for df in [1.0, 2.0, 3.0, 17.0, f64::INFINITY] {
            for alpha in [0.8, 0.05, 1e-4] {
                let family = MaxT::new(&[1, 2, 2], 6, Sides::Upper).unwrap();
                let critical = family.critical_value(alpha, df).unwrap();
                assert!((family.tail(critical, df).unwrap() / alpha - 1.0).abs() < 1e-9);
            }
        }
    }

    /// The table of the inner integral gives its digits back, far out and for unlike numbers too.
    #[test]
    fn a_tabled_tail_is_the_tail() {
        for sides in [Sides::Two, Sides::Upper] {
            for (ns, control) in [(vec![2], 6), (vec![1; 40], 2), (vec![4; 300], 30), (vec![1, 2, 9, 60], 3)]
            {
                let family = MaxT::new(&ns, control, sides).unwrap();
                let low = if sides == Sides::Two { 0.0 } else { -9.0 };
                for step in 0..2_000 {
                    let u = low + 0.0187 * f64::from(step);
                    let exact = family.normal_tail(u);
                    let tabled = family.known_spread.at(u, |u| family.normal_tail(u));
                    let most = 2e-13 * exact + f64::MIN_POSITIVE;
                    assert!(
                        (tabled - exact).abs() < most,
                        "{ns:?}, {sides:?}, {u}: {tabled:e} for {exact:e}"
                    );
                }
            }
        }
    }

    #[test]
    fn the_largest_numbers_stay_finite() {
        for df in [1.0, 2.0, 40.0, 1e9, f64::INFINITY] {
            assert!(two_sided(&[1, 3], 2).tail(f64::MAX, df).unwrap() < 1e-90);
            let upper = MaxT::new(&[1, 3], 2, Sides::Upper).unwrap();
            assert!((upper.tail(f64::MIN, df).unwrap() - 1.0).abs() < 1e-15);
        }
    }

    #[test]
    fn families_that_cannot_be_compared_are_none() {
        assert!(MaxT::new(&[], 3, Sides::Two).is_none());
        assert!(MaxT::new(&[1], 0, Sides::Two).is_none());
        assert!(MaxT::new(&[1, 0], 2, Sides::Two).is_none());
        let family = two_sided(&[1], 1);
        for df in [0.0, 0.5, f64::NAN] {
            assert_eq!((family.tail(1.0, df), family.critical_value(0.05, df)), (None, None));
        }
        assert_eq!((family.tail(f64::NAN, 3.0), family.critical_value(1.0, 3.0)), (None, None));
    }
}

//! The largest of several t statistics that share two normal variables and one spread estimate.

use super::distributions::{normal_density, normal_tail, t_quantile};
use super::quadrature::{Rule, gauss_legendre, panels};
use super::roots::root;
use super::scale::{KNOWN_DF, REACH, ScaleIntegral, either};
use super::tabled::{COARSE, TabledTail};

/// Nodes on one panel of the integrals over the two normal variables.
const PANEL_ORDER: usize = 8;
const SCALE_ORDER: usize = 24;
/// Up to here a tail of a normal variable is well above the smallest number.
const TABLED: f64 = 36.0;

/// What a comparison has of its own and of the two shared variables, as shares of its variance that sum to 1.
#[derive(Clone, Copy, Debug)]
pub(super) struct Parts {
    /// Its own, above 0.
    pub(super) own: f64,
    /// Signed root of the share of the first shared variable.
    pub(super) first: f64,
    /// Signed root of the share of the second.
    pub(super) second: f64,
}

/// The distribution of max |t| where each comparison is own + first x Z + second x W, all standard normal and
/// independent, over one estimate of the spread.
///
/// Given Z and W the comparisons are independent, so that three integrals give the chance; Gauss-Legendre rules take
/// them, and the result is the same on every run (Hochberg and Tamhane 1987, Multiple Comparison Procedures, appendix
/// 3, for one shared variable).
pub(super) struct TwoFactor {
    parts: Vec<Parts>,
    first: Rule,
    second: Rule,
    scale: ScaleIntegral,
    known_spread: TabledTail,
}

impl TwoFactor {
    /// `None` without comparisons, or where one has nothing of its own.
    pub(super) fn new(parts: Vec<Parts>) -> Option<Self> {
        if parts.is_empty() || !parts.iter().all(|part| part.own > 0.0 && part.own.is_finite()) {
            return None;
        }
        let rule = gauss_legendre(PANEL_ORDER);
        let width = |shared: fn(&Parts) -> f64| {
            let steepest = parts.iter().map(|part| part.own.sqrt() / shared(part).abs().max(1e-9));
            // Panels finer than half a deviation would cost seconds and serve only parts that are all but fixed by what they
            // share.
            (2.0 * steepest.fold(f64::INFINITY, f64::min)).clamp(0.5, 3.0)
        };
        Some(Self {
            first: panels(&rule, -REACH, REACH, width(|part| part.first)),
            // The integrand does not change where both variables change their sign.
            second: panels(&rule, 0.0, REACH, width(|part| part.second)),
            scale: ScaleIntegral::of_order(SCALE_ORDER),
            known_spread: TabledTail::new(0.5, TABLED, COARSE),
            parts,
        })
    }

    /// P(max |t| > `t`) on `df` degrees of freedom; `None` unless `df` is at least 1 and `t` is finite.
    pub(super) fn tail(&self, t: f64, df: f64) -> Option<f64> {
        if !t.is_finite() || df.is_nan() || df < 1.0 {
            return None;
        }
        let t = t.abs().min(1e6);
        let chance = if df > KNOWN_DF {
            self.normal_tail(t)
        } else {
            let of_scale = |scale: f64| self.known_spread.at(t * scale, |u| self.normal_tail(u));
            self.scale.over(t, df, of_scale)
        };
        Some(chance.clamp(0.0, 1.0))
    }

    /// The value that max |t| exceeds with probability `alpha`; it lies between the values for one comparison and
    /// Bonferroni's for all of them.
    pub(super) fn critical_value(&self, alpha: f64, df: f64) -> Option<f64> {
        let low = -t_quantile(alpha / 2.0, df)?;
        let high = -t_quantile(alpha / 2.0 / self.parts.len() as f64, df)?;
        let margin = 1e-4 * (1.0 + high);
        let excess = |t: f64| self.tail(t, df).map_or(f64::NAN, |chance| (chance / alpha).ln());
        root(excess, (low - margin).max(0.0), high + margin)
    }

    fn normal_tail(&self, u: f64) -> f64 {
        let u = u.min(40.0);
        let over_first = |second: f64| -> f64 {
            let of = |&(first, weight): &(f64, f64)| {
                weight * normal_density(first) * self.any_beyond(u, first, second)
            };
            self.first.iter().map(of).sum()
        };
        let halves: f64 = self
            .second
            .iter()
            .map(|&(second, weight)| weight * normal_density(second) * over_first(second))
            .sum();
        2.0 * halves
    }

    fn any_beyond(&self, u: f64, first: f64, second: f64) -> f64 {
        self.parts.iter().fold(0.0, |any, part| {
            let (shift, own) = (part.first * first + part.second * second, part.own.sqrt());
            let one = normal_tail((u - shift) / own) + normal_tail((u + shift) / own);
            either(any, one.min(1.0))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::distributions::t_tail;
    use super::super::max_t::{MaxT, Sides};
    use super::super::random::Generator;
    use super::*;

    fn parts(shared: &[(f64, f64)]) -> Vec<Parts> {
        let of = |&(first, second): &(f64, f64)| Parts {
            own: 1.0 - first * first - second * second,
            first,
            second,
        };
        shared.iter().map(of).collect()
    }

    #[test]
    fn a_tabled_tail_is_the_tail() {
        for shared in
            [vec![(0.6, -0.5)], vec![(0.5, 0.6), (0.5, -0.4), (0.7, 0.1), (0.3, -0.7)], vec![(0.7, 0.2); 12]]
        {
            let family = TwoFactor::new(parts(&shared)).unwrap();
            for step in 0..90 {
                let u = 0.137 * f64::from(step);
                let exact = family.normal_tail(u);
                let tabled = family.known_spread.at(u, |u| family.normal_tail(u));
                assert!((tabled - exact).abs() < 1e-9 * exact, "{shared:?}, {u}: {tabled:e} for {exact:e}");
            }
        }
    }

    #[test]
    fn one_comparison_is_the_t_test() {
        let family = TwoFactor::new(parts(&[(0.6, -0.5)])).unwrap();
        for (t, df) in [(0.4, 3.0), (2.5, 8.0), (3.0, 40.0)] {
            assert!((family.tail(t, df).unwrap() - 2.0 * t_tail(t, df).unwrap()).abs() < 1e-6);
        }
    }

    #[test]
    fn without_the_second_variable_it_is_the_known_distribution() {
        let (ns, control) = ([2, 2, 5], 4);
        let shared: Vec<(f64, f64)> =
            ns.iter().map(|&n| ((n as f64 / (n + control) as f64).sqrt(), 0.0)).collect();
        let family = TwoFactor::new(parts(&shared)).unwrap();
        let known = MaxT::new(&ns, control, Sides::Two).unwrap();
        for (t, df) in [(1.0, 3.0), (2.5, 9.0), (4.0, 30.0)] {
            assert!((family.tail(t, df).unwrap() - known.tail(t, df).unwrap()).abs() < 1e-6);
        }
        let off = family.critical_value(0.05, 9.0).unwrap() - known.critical_value(0.05, 9.0).unwrap();
        assert!(off.abs() < 1e-5, "{off:e}");
    }

    #[test]
    fn draws_with_a_seed_agree() {
        let shared = [(0.5, 0.6), (0.5, -0.4), (0.7, 0.1), (0.3, -0.7)];
        let (family, df, count) = (TwoFactor::new(parts(&shared)).unwrap(), 6.0, 40_000);
        let mut random = Generator::new(5);
        let beyond = (0..count).filter(|_| {
            let (z, w) = (random.normal(), random.normal());
            let scale = (random.chi_square(df).unwrap() / df).sqrt();
            family.parts.iter().any(|part| {
                let t = part.own.sqrt() * random.normal() + part.first * z + part.second * w;
                (t / scale).abs() > 2.6
            })
        });
        let share = beyond.count() as f64 / f64::from(count);
        let exact = family.tail(2.6, df).unwrap();
        // Four standard errors of the drawn share.
        assert!(
            (share - exact).abs() < 4.0 * (exact * (1.0 - exact) / f64::from(count)).sqrt(),
            "{share} {exact}"
        );
    }

    #[test]
    fn families_that_cannot_be_made_are_none() {
        assert!(TwoFactor::new(Vec::new()).is_none());
        assert!(TwoFactor::new(parts(&[(0.8, 0.6)])).is_none_or(|family| family.parts[0].own > 0.0));
        let family = TwoFactor::new(parts(&[(0.5, 0.5)])).unwrap();
        assert_eq!((family.tail(f64::NAN, 3.0), family.tail(1.0, 0.5)), (None, None));
    }
}

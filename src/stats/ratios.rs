//! Ratios of several groups to one control, with intervals that hold together.

use super::fieller::{Uncertain, ratio};
use super::max_t::Sides;
use super::solved::Solved;
use super::{GroupMean, Spread};

/// A control that adds more than this many times the variance of a group's mean is that group's whole error, and is counted with this:
/// the smaller correlation raises the critical value, by less than its fourth digit.
const MOST_SHARED: f64 = 1e4;

/// A group in units of the control.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio {
    /// Mean of the group over mean of the control.
    pub ratio: f64,
    /// Lower end of the simultaneous interval.
    pub low: f64,
    /// Upper end of the simultaneous interval.
    pub high: f64,
    /// Two-sided p value of the ratio that the group is held to, adjusted for all comparisons.
    pub p: f64,
    /// Two-sided critical value, the same for all comparisons.
    pub critical: f64,
}

/// Two-sided simultaneous intervals of the ratio of every group to `control`, in the order of `groups`, each of which is a mean and the
/// ratio that its p value is of.
///
/// With T(r) = (`m_i` - r `m_0`) / (s sqrt(1 / `n_i` + r^2 / `n_0`)) an interval holds the ratios for which |T| stays within the critical value
/// of the multivariate t whose correlations are those of T at the estimated ratios, `lambda_i` = `r_i` / sqrt(`r_i`^2 + `n_0` / `n_i`): it is
/// Fieller's with that value in place of Student's, and leaves out the ratio of a p value where that is below 1 - `confidence`. Dilba,
/// Bretz and Guiard (2006), Journal of Statistical Planning and Inference 136, 2640-2658 (from memory). `None` where
/// [`super::dunnett::against_control`] has no answer, or where the control is not told apart from 0, so that no interval has two ends.
pub fn to_control(
    groups: &[(GroupMean, f64)],
    control: GroupMean,
    spread: Spread,
    confidence: f64,
    solved: &mut Solved,
) -> Option<Vec<Ratio>> {
    if !spread.is_usable() {
        return None;
    }
    let of = |mean: f64| mean / control.mean;
    let uncertain =
        |group: GroupMean| Uncertain { mean: group.mean, square: spread.sd.powi(2) / group.n as f64 };
    // A negative ratio turns the sign of a statistic, which a two-sided comparison does not see.
    let shared = |group: GroupMean| of(group.mean).powi(2) * group.n as f64 / control.n as f64;
    let shared: Vec<f64> = groups.iter().map(|&(group, _)| shared(group).min(MOST_SHARED)).collect();
    let family = solved.sharing(&shared, Sides::Two, 1.0 - confidence, spread.df)?;
    let critical = family.critical;
    groups
        .iter()
        .map(|&(group, held_to)| {
            let (over, under) = (uncertain(group), uncertain(control));
            let (low, high) = ratio(over, under, critical)?;
            let error = (over.square + held_to * held_to * under.square).sqrt();
            let p = family.distribution.tail((over.mean - held_to * under.mean) / error, spread.df)?;
            Some(Ratio { ratio: of(group.mean), low, high, p, critical })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::dunnett::against_control;
    use super::super::max_t::MaxT;
    use super::*;

    const BLANK: GroupMean = GroupMean { mean: 1.64, n: 4 };
    const SPREAD: Spread = Spread { sd: 0.056_633_977_499_442_927, df: 9.0 };

    /// Light through three coats and none: means 0.43, 1.03 and 1.516 667 of three slips.
    fn coats() -> Vec<GroupMean> {
        [1.29 / 3.0, 3.09 / 3.0, 4.55 / 3.0].map(|mean| GroupMean { mean, n: 3 }).to_vec()
    }

    fn found(groups: &[GroupMean], control: GroupMean, spread: Spread) -> Option<Vec<Ratio>> {
        let groups: Vec<(GroupMean, f64)> = groups.iter().map(|&group| (group, 1.0)).collect();
        to_control(&groups, control, spread, 0.95, &mut Solved::default())
    }

    fn assert_close(found: f64, expected: f64, within: f64) {
        assert!((found - expected).abs() <= within, "{found} for {expected}");
    }

    /// Worked out anew in another language: the multivariate t by sums over even grids of the common normal variable (300 steps)
    /// and of the spread (400), its critical value by the secant rule, each end of an interval by halving on T(r)^2 = c^2.
    #[test]
    fn three_ratios_are_those_of_an_independent_integration() {
        let expected = [
            (0.262_195_121_951_219_47, 0.204_014_102_590_990_62, 0.321_670_334_947_924_33, 1.347_742_8e-9),
            (0.628_048_780_487_804_9, 0.564_279_929_330_433_7, 0.694_917_676_867_431_2, 5.591_573_6e-7),
            (0.924_796_747_967_479_6, 0.853_549_391_980_502_2, 1.000_608_895_462_955_5, 0.051_799_308_043_7),
        ];
        let found = found(&coats(), BLANK, SPREAD).unwrap();
        assert_eq!(found.len(), 3);
        for (found, (ratio, low, high, p)) in found.iter().zip(expected) {
            assert_close(found.critical, 2.873_649_855_318_101, 1e-8);
            assert_close(found.ratio, ratio, 1e-12);
            assert_close(found.low, low, 1e-8);
            assert_close(found.high, high, 1e-8);
            assert_close(found.p / p, 1.0, 1e-6);
        }
    }

    /// The third is as near to the edge as it can be: with the correlations of differences it would be told apart.
    #[test]
    fn an_interval_leaves_out_one_where_p_is_below_five_percent() {
        for step in 0..60 {
            let group = GroupMean { mean: 1.35 + 0.01 * f64::from(step), n: 3 };
            let groups = [coats()[0], group];
            let found = found(&groups, BLANK, SPREAD).unwrap()[1];
            assert_eq!(found.low > 1.0 || found.high < 1.0, found.p < 0.05, "{group:?}: {found:?}");
        }
    }

    /// Where every group has the mean of the control, the critical value and p are Dunnett's to the last bit.
    #[test]
    fn at_a_ratio_of_one_it_is_dunnett_s_procedure() {
        for ns in [[4, 4, 4], [1, 3, 9]] {
            let groups = ns.map(|n| GroupMean { mean: BLANK.mean, n });
            let plain = against_control(&groups, BLANK, SPREAD, 0.95, &mut Solved::default()).unwrap();
            for (ratio, plain) in found(&groups, BLANK, SPREAD).unwrap().iter().zip(plain) {
                assert_eq!((ratio.critical, ratio.p), (plain.critical, plain.p));
                // A blank that is far above its error leaves the interval of the difference itself.
                assert_close((ratio.high - ratio.low) / (plain.high - plain.low) * BLANK.mean, 1.0, 0.02);
            }
        }
    }

    #[test]
    fn a_blank_of_very_many_places_adds_no_error() {
        let many = GroupMean { n: 1_000_000_000_000, ..BLANK };
        let alone = MaxT::sharing(&[0.0; 3], Sides::Two).unwrap().critical_value(0.05, SPREAD.df).unwrap();
        for (found, group) in found(&coats(), many, SPREAD).unwrap().iter().zip(coats()) {
            let half = alone * SPREAD.sd / 3.0_f64.sqrt();
            assert_close(found.critical, alone, 1e-6);
            assert_close(found.low, (group.mean - half) / BLANK.mean, 1e-7);
            assert_close(found.high, (group.mean + half) / BLANK.mean, 1e-7);
        }
    }

    #[test]
    fn the_unit_of_the_measure_does_not_matter() {
        let plain = found(&coats(), BLANK, SPREAD).unwrap();
        for unit in [1e-6, 0.001, 25.4, -1.0, 1e9] {
            let scaled = |group: GroupMean| GroupMean { mean: unit * group.mean, ..group };
            let spread = Spread { sd: unit.abs() * SPREAD.sd, ..SPREAD };
            let groups: Vec<GroupMean> = coats().into_iter().map(scaled).collect();
            for (found, plain) in found(&groups, scaled(BLANK), spread).unwrap().iter().zip(&plain) {
                assert_close(found.low, plain.low, 1e-11);
                assert_close(found.high, plain.high, 1e-11);
                assert_close(found.p / plain.p, 1.0, 1e-9);
            }
        }
    }

    #[test]
    fn ratios_that_have_no_two_ends_are_none() {
        let weak = GroupMean { mean: 0.05, n: 4 };
        assert_eq!(found(&coats(), weak, SPREAD), None);
        assert_eq!(found(&coats(), GroupMean { mean: 0.0, n: 4 }, SPREAD), None);
        assert_eq!(found(&[], BLANK, SPREAD), None);
        assert_eq!(found(&coats(), BLANK, Spread { sd: 0.0, ..SPREAD }), None);
        assert_eq!(found(&coats(), GroupMean { mean: f64::NAN, n: 4 }, SPREAD), None);
        // A ratio far above any that is met still has its interval.
        assert!(found(&[GroupMean { mean: 1e7, n: 3 }], BLANK, SPREAD).is_some());
    }
}

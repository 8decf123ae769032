//! Comparisons of several groups with one control, after Dunnett.

use super::max_t::Sides;
use super::solved::Solved;
use super::{GroupMean, Spread};

/// A group against the control.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// Mean of the group minus mean of the control, in the unit of the measure.
    pub difference: f64,
    /// Lower end of the simultaneous interval.
    pub low: f64,
    /// Upper end of the simultaneous interval.
    pub high: f64,
    /// Two-sided p value, adjusted for all comparisons.
    pub p: f64,
    /// Two-sided critical value, the same for all comparisons.
    pub critical: f64,
}

/// Two-sided simultaneous intervals of every group against `control`, in the order of `groups`.
///
/// `confidence` is a fraction, 0.95 for 95 %. `None` where there is no group, a group has no
/// values, the spread is 0 or has less than one degree of freedom, or `confidence` is not between
/// 0 and 1. `solved` keeps critical values for the next call. Dunnett (1955), Journal of the American
/// Statistical Association 50, 1096-1121, with the exact correlations for unequal numbers.
pub fn against_control(
    groups: &[GroupMean],
    control: GroupMean,
    spread: Spread,
    confidence: f64,
    solved: &mut Solved,
) -> Option<Vec<Comparison>> {
    if !spread.is_usable() {
        return None;
    }
    let ns: Vec<usize> = groups.iter().map(|group| group.n).collect();
    let family = solved.family(&ns, control.n, Sides::Two, 1.0 - confidence, spread.df)?;
    let critical = family.critical;
    groups
        .iter()
        .map(|&group| {
            let difference = group.mean - control.mean;
            let error = spread.of_difference(group, control);
            let (low, high) = (difference - critical * error, difference + critical * error);
            let p = family.distribution.tail(difference / error, spread.df)?;
            Some(Comparison { difference, low, high, p, critical })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const CONTROL: GroupMean = GroupMean { mean: 70.0, n: 6 };
    const SPREAD: Spread = Spread { sd: 2.0, df: 17.0 };

    fn products() -> Vec<GroupMean> {
        [(75.0, 2), (71.0, 3), (64.0, 2), (70.0, 1)].map(|(mean, n)| GroupMean { mean, n }).to_vec()
    }

    #[test]
    fn an_interval_excludes_zero_where_p_is_below_five_percent() {
        let found = against_control(&products(), CONTROL, SPREAD, 0.95, &mut Solved::default()).unwrap();
        let excluded: Vec<bool> = found.iter().map(|c| c.low > 0.0 || c.high < 0.0).collect();
        assert_eq!(excluded, [true, false, true, false]);
        assert_eq!(excluded, found.iter().map(|c| c.p < 0.05).collect::<Vec<_>>());
        assert_eq!((found[3].difference, found[3].p > 0.999_999_999), (0.0, true));
    }

    #[test]
    fn permuted_groups_give_permuted_results() {
        let (mut groups, mut expected) = (
            products(),
            against_control(&products(), CONTROL, SPREAD, 0.95, &mut Solved::default()).unwrap(),
        );
        for _ in 0..3 {
            groups.rotate_left(1);
            expected.rotate_left(1);
            assert_eq!(
                against_control(&groups, CONTROL, SPREAD, 0.95, &mut Solved::default()).unwrap(),
                expected
            );
        }
    }

    #[test]
    fn one_section_a_product_uses_the_spread_of_the_bare_ones() {
        let single = [GroupMean { mean: 76.0, n: 1 }];
        let spread = Spread { sd: 2.0, df: 5.0 };
        let found = against_control(&single, CONTROL, spread, 0.95, &mut Solved::default()).unwrap()[0];
        let half = 2.570_581_835_636_314 * 2.0 * (1.0_f64 + 1.0 / 6.0).sqrt();
        assert!((found.high - found.difference - half).abs() < 1e-9);
    }

    #[test]
    fn comparisons_that_cannot_be_made_are_none() {
        let group = |mean| vec![GroupMean { mean, n: 2 }];
        let with = |sd, df, confidence| {
            against_control(&group(71.0), CONTROL, Spread { sd, df }, confidence, &mut Solved::default())
        };
        assert!(with(1.0, 1.0, 0.95).is_some());
        assert_eq!((with(0.0, 4.0, 0.95), with(f64::NAN, 4.0, 0.95)), (None, None));
        assert_eq!((with(1.0, 0.0, 0.95), with(1.0, 4.0, 1.0)), (None, None));
        assert_eq!(against_control(&[], CONTROL, SPREAD, 0.95, &mut Solved::default()), None);
        assert_eq!(against_control(&group(f64::NAN), CONTROL, SPREAD, 0.95, &mut Solved::default()), None);
    }
}

//! Comparisons of all pairs of groups with one common spread, after Tukey and Kramer.

use super::studentized_range::StudentizedRange;
use super::{GroupMean, Pair, Spread, pairs_of};

/// Two-sided simultaneous intervals of every pair of `groups`, in the order (0, 1), (0, 2), ...
///
/// `confidence` is a fraction, 0.95 for 95 %. With unequal numbers the error of each pair is its
/// own and the level is kept, a little on the safe side: Tukey (1953); Kramer (1956), Biometrics
/// 12, 307-310; proof by Hayter (1984), Annals of Statistics 12, 61-75. `None` below two groups,
/// where a group has no values or its mean is not finite, the spread is 0 or has less than one
/// degree of freedom, or `confidence` is not between 0 and 1.
pub fn all_pairs(groups: &[GroupMean], spread: Spread, confidence: f64) -> Option<Vec<Pair>> {
    let sound = |group: &GroupMean| group.n > 0 && group.mean.is_finite();
    let range = StudentizedRange::of(groups.len())?;
    if !spread.is_usable() || !groups.iter().all(sound) {
        return None;
    }
    let critical = range.critical_value(1.0 - confidence, spread.df)?;
    pairs_of(groups.len())
        .map(|(one, other)| {
            let difference = groups[one].mean - groups[other].mean;
            let error = spread.of_difference(groups[one], groups[other]) / std::f64::consts::SQRT_2;
            let (low, high) = (difference - critical * error, difference + critical * error);
            let p = range.tail((difference / error).abs(), spread.df)?;
            Some(Pair { one, other, difference, low, high, p })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPREAD: Spread = Spread { sd: 2.0, df: 11.0 };

    fn products() -> Vec<GroupMean> {
        [(75.0, 2), (71.0, 3), (64.0, 2), (70.0, 6)].map(|(mean, n)| GroupMean { mean, n }).to_vec()
    }

    #[test]
    fn an_interval_excludes_zero_where_p_is_below_five_percent() {
        let found = all_pairs(&products(), SPREAD, 0.95).unwrap();
        let order: Vec<(usize, usize)> = found.iter().map(|pair| (pair.one, pair.other)).collect();
        assert_eq!(order, [(0, 1), (0, 2), (0, 3), (1, 2), (1, 3), (2, 3)]);
        let excluded: Vec<bool> = found.iter().map(|pair| pair.low > 0.0 || pair.high < 0.0).collect();
        assert_eq!(excluded, found.iter().map(|pair| pair.p < 0.05).collect::<Vec<_>>());
        assert_eq!(excluded, [false, true, true, true, false, true]);
    }

    #[test]
    fn shift_and_scale_move_the_intervals_alone() {
        let moved: Vec<GroupMean> =
            products().iter().map(|g| GroupMean { mean: 900.0 - 4.0 * g.mean, n: g.n }).collect();
        let wider = Spread { sd: 8.0, df: 11.0 };
        let before = all_pairs(&products(), SPREAD, 0.95).unwrap();
        for (a, b) in before.iter().zip(all_pairs(&moved, wider, 0.95).unwrap()) {
            assert!((b.low + 4.0 * a.high).abs() < 1e-9 && (b.p - a.p).abs() < 1e-12);
        }
    }

    #[test]
    fn turned_groups_give_turned_pairs() {
        let mut groups = products();
        let before = all_pairs(&groups, SPREAD, 0.95).unwrap();
        groups.reverse();
        let after = all_pairs(&groups, SPREAD, 0.95).unwrap();
        for pair in &before {
            let twin = after.iter().find(|p| (3 - p.other, 3 - p.one) == (pair.one, pair.other)).unwrap();
            assert_eq!((twin.low, twin.high, twin.p), (-pair.high, -pair.low, pair.p));
        }
    }

    #[test]
    fn comparisons_that_cannot_be_made_are_none() {
        let groups = products();
        assert_eq!((all_pairs(&groups[..1], SPREAD, 0.95), all_pairs(&[], SPREAD, 0.95)), (None, None));
        assert_eq!(all_pairs(&groups, SPREAD, 1.0), None);
        for (sd, df) in [(0.0, 4.0), (f64::NAN, 4.0), (1.0, 0.0)] {
            assert_eq!(all_pairs(&groups, Spread { sd, df }, 0.95), None);
        }
        let lost = [groups[0], GroupMean { mean: f64::NAN, n: 2 }];
        let empty = [groups[0], GroupMean { mean: 1.0, n: 0 }];
        assert_eq!((all_pairs(&lost, SPREAD, 0.95), all_pairs(&empty, SPREAD, 0.95)), (None, None));
    }
}

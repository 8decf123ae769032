//! Comparisons of all pairs of groups with spreads of their own, after Games and Howell.

use super::studentized_range::StudentizedRange;
use super::welch::{Group, between};
use super::{Pair, pairs_of};

/// Two-sided simultaneous intervals of every pair of `groups`, in the order (0, 1), (0, 2), ...
///
/// `confidence` is a fraction, 0.95 for 95 %. Each pair has Welch's error and degrees of freedom
/// and the studentised range of all groups: Games and Howell (1976), Journal of Educational
/// Statistics 1, 113-125. `None` below two groups, where a group has fewer than two values, a pair
/// has no spread at all, a value is not finite, or `confidence` is not between 0 and 1.
pub fn all_pairs<G: AsRef<[f64]>>(groups: &[G], confidence: f64) -> Option<Vec<Pair>> {
    pairs_among(groups, |_| true, confidence)
}

/// The same of those pairs only both of whose groups are `judged`; the others stay in the family, so that its range is no smaller.
pub fn pairs_among<G: AsRef<[f64]>>(
    groups: &[G],
    judged: impl Fn(usize) -> bool,
    confidence: f64,
) -> Option<Vec<Pair>> {
    let groups: Option<Vec<Group>> = groups.iter().map(|group| Group::of(group.as_ref())).collect();
    let groups = groups?;
    let range = StudentizedRange::of(groups.len())?;
    pairs_of(groups.len())
        .filter(|&(one, other)| judged(one) && judged(other))
        .map(|(one, other)| {
            let pair = between(groups[one], groups[other])?;
            let error = pair.error / std::f64::consts::SQRT_2;
            let half = range.critical_value(1.0 - confidence, pair.df)? * error;
            let (low, high) = (pair.difference - half, pair.difference + half);
            let p = range.tail((pair.difference / error).abs(), pair.df)?;
            Some(Pair { one, other, difference: pair.difference, low, high, p })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::welch::difference;
    use super::*;

    #[test]
    fn two_groups_give_welchs_interval() {
        let (one, other) = ([4.0, 5.0, 7.5, 6.0], [9.0, 8.0, 12.0, 8.0]);
        let pair = all_pairs(&[one, other], 0.95).unwrap()[0];
        let alone = difference(&one, &other).unwrap();
        let (low, high) = alone.interval(0.95).unwrap();
        assert!((pair.low - low).abs() < 1e-8 && (pair.high - high).abs() < 1e-8);
        assert!((pair.p - alone.p().unwrap()).abs() < 1e-10);
    }

    #[test]
    fn a_wide_group_does_not_widen_the_others() {
        let narrow = [[1.0, 1.1, 0.9, 1.0], [1.4, 1.5, 1.3, 1.4]];
        let wide =
            |reach: f64| all_pairs(&[narrow[0], narrow[1], [9.0, 9.0 + reach, 9.0, 9.5]], 0.95).unwrap();
        assert_eq!(wide(1.0)[0], wide(40.0)[0]);
        assert!(wide(40.0)[1].high - wide(40.0)[1].low > wide(1.0)[1].high - wide(1.0)[1].low);
    }

    #[test]
    fn a_group_without_spread_takes_no_interval_from_the_others() {
        let groups = [vec![1.0, 1.2, 0.9, 1.0], vec![2.0; 4], vec![1.4, 1.5, 1.3, 1.6]];
        let pairs = pairs_among(&groups, |group| group != 1, 0.95).unwrap();
        // The third pair of the family, by the range of all three groups.
        assert_eq!(pairs, [all_pairs(&groups, 0.95).unwrap()[1]]);
    }

    #[test]
    fn comparisons_that_cannot_be_made_are_none() {
        assert_eq!(all_pairs(&[[1.0, 2.0]], 0.95), None);
        assert_eq!(all_pairs(&[vec![1.0, 2.0], vec![3.0]], 0.95), None);
        assert_eq!(all_pairs(&[[1.0, 1.0], [2.0, 2.0]], 0.95), None);
        assert_eq!(all_pairs(&[[1.0, 2.0], [3.0, 5.0]], 0.0), None);
        assert_eq!(all_pairs::<[f64; 2]>(&[], 0.95), None);
    }
}

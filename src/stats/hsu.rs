//! Comparisons of every group with the best of the others, after Hsu.

use super::max_t::Sides;
use super::solved::Solved;
use super::{GroupMean, Spread};

/// Which mean is the better one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// The larger mean.
    Higher,
    /// The smaller mean.
    Lower,
}

impl Better {
    /// How far `one` is ahead of `other`; negative where it is behind.
    fn lead(self, one: GroupMean, other: GroupMean) -> f64 {
        match self {
            Self::Higher => one.mean - other.mean,
            Self::Lower => other.mean - one.mean,
        }
    }
}

/// The lead of every group over the best mean among the others, in the order of `groups`; 0 for a
/// group that stands alone.
pub fn leads(groups: &[GroupMean], better: Better) -> Vec<f64> {
    let others = |at: usize| groups.iter().enumerate().filter(move |&(other, _)| other != at);
    let lead = |(at, &one): (usize, &GroupMean)| {
        others(at).map(|(_, &other)| better.lead(one, other)).reduce(f64::min).unwrap_or(0.0)
    };
    groups.iter().enumerate().map(lead).collect()
}

/// A group against the best of the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestComparison {
    /// Lower end of the interval of the lead over the best other, at most 0.
    pub low: f64,
    /// Upper end of that interval, at least 0.
    pub high: f64,
    /// One-sided critical value of this group.
    pub critical: f64,
    /// Whether the group may be the best: the upper end lies above 0.
    pub may_lead: bool,
}

/// Constrained simultaneous intervals of every group's lead over the best other, in the order of
/// `groups`. A lead is positive where the group is the better one, whatever the direction.
///
/// `confidence` is a fraction, 0.95 for 95 %. `None` below two groups and as in
/// [`super::dunnett::against_control`]. Hsu (1984), Annals of Statistics 12, 1136-1144; with
/// unequal numbers every group has its own critical value (Hsu 1996, Multiple Comparisons, 4.2).
pub fn with_best(
    groups: &[GroupMean],
    spread: Spread,
    better: Better,
    confidence: f64,
    solved: &mut Solved,
) -> Option<Vec<BestComparison>> {
    let error = |i: usize, j: usize| spread.of_difference(groups[i], groups[j]);
    with_errors(groups, (spread, error), better, confidence, solved)
}

/// The same with the standard error of every difference, where means owe a part of it to what was taken out of them. The critical values
/// are those of the numbers of values, on the degrees of freedom of the spread.
pub fn with_errors(
    groups: &[GroupMean],
    (spread, error): (Spread, impl Fn(usize, usize) -> f64),
    better: Better,
    confidence: f64,
    solved: &mut Solved,
) -> Option<Vec<BestComparison>> {
    if groups.len() < 2 || !spread.is_usable() || !groups.iter().all(|g| g.mean.is_finite()) {
        return None;
    }
    let ns: Vec<usize> = groups.iter().map(|group| group.n).collect();
    let criticals = critical_values(&ns, 1.0 - confidence, spread.df, solved)?;
    let margin = |i: usize, j: usize| criticals[i] * error(i, j);
    let lead = |i: usize, j: usize| better.lead(groups[i], groups[j]);
    let others = |i: usize| (0..groups.len()).filter(move |&j| j != i);
    let highs: Vec<f64> = (0..groups.len())
        .map(|i| others(i).map(|j| lead(i, j) + margin(i, j)).fold(f64::INFINITY, f64::min).max(0.0))
        .collect();
    // Only groups that may lead can be the best other; where there is none, this one leads alone.
    let low = |i: usize| {
        others(i).filter(|&j| highs[j] > 0.0).map(|j| lead(i, j) - margin(j, i)).fold(0.0, f64::min)
    };
    let comparison = |i: usize| BestComparison {
        low: low(i),
        high: highs[i],
        critical: criticals[i],
        may_lead: highs[i] > 0.0,
    };
    Some((0..groups.len()).map(comparison).collect())
}

/// The one-sided critical value of every group as the control of all others.
pub(super) fn critical_values(ns: &[usize], alpha: f64, df: f64, solved: &mut Solved) -> Option<Vec<f64>> {
    let mut of = |index: usize| {
        let mut others = ns.to_vec();
        let n = others.remove(index);
        Some(solved.family(&others, n, Sides::Upper, alpha, df)?.critical)
    };
    (0..ns.len()).map(&mut of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const SPREAD: Spread = Spread { sd: 1.0, df: 12.0 };

    fn groups(means: &[f64]) -> Vec<GroupMean> {
        means.iter().zip([2, 3, 2, 4]).map(|(&mean, n)| GroupMean { mean, n }).collect()
    }

    #[test]
    fn a_far_leader_leads_alone() {
        let found =
            with_best(&groups(&[0.0, 9.0, 1.0, -1.0]), SPREAD, Better::Higher, 0.95, &mut Solved::default())
                .unwrap();
        let may_lead: Vec<bool> = found.iter().map(|group| group.may_lead).collect();
        assert_eq!(may_lead, [false, true, false, false]);
        assert_eq!(found[1].low.to_bits(), 0.0_f64.to_bits());
        assert!(found.iter().all(|group| group.low <= 0.0 && group.high >= 0.0));
    }

    #[test]
    fn a_lead_is_over_the_best_of_the_others() {
        assert_eq!(leads(&groups(&[3.0, 5.0, 4.5, 1.0]), Better::Higher), [-2.0, 0.5, -0.5, -4.0]);
        assert_eq!(leads(&groups(&[3.0, 5.0, 4.5, 1.0]), Better::Lower), [-2.0, -4.0, -3.5, 2.0]);
        assert_eq!(leads(&groups(&[3.0]), Better::Lower), [0.0]);
    }

    #[test]
    fn equal_means_may_all_lead() {
        let found =
            with_best(&groups(&[5.0; 4]), SPREAD, Better::Higher, 0.95, &mut Solved::default()).unwrap();
        assert!(found.iter().all(|group| group.may_lead && group.low < 0.0));
    }

    #[test]
    fn lower_is_better_mirrors_higher_is_better() {
        let means = [3.0, 5.0, 4.5, 1.0];
        let mirrored = means.map(|mean| -mean);
        assert_eq!(
            with_best(&groups(&means), SPREAD, Better::Lower, 0.95, &mut Solved::default()),
            with_best(&groups(&mirrored), SPREAD, Better::Higher, 0.95, &mut Solved::default())
        );
        let found = with_best(&groups(&means), SPREAD, Better::Lower, 0.95, &mut Solved::default()).unwrap();
        assert!(found[3].may_lead && !found[1].may_lead);
    }

    #[test]
    fn permuted_groups_give_permuted_results() {
        let mut means = groups(&[3.0, 5.0, 4.5, 1.0]);
        let mut expected = with_best(&means, SPREAD, Better::Higher, 0.95, &mut Solved::default()).unwrap();
        for _ in 0..3 {
            means.rotate_left(1);
            expected.rotate_left(1);
            assert_eq!(
                with_best(&means, SPREAD, Better::Higher, 0.95, &mut Solved::default()).unwrap(),
                expected
            );
        }
    }

    #[test]
    fn comparisons_that_cannot_be_made_are_none() {
        let pair = groups(&[1.0, 2.0]);
        let with = |groups: &[GroupMean], spread| {
            with_best(groups, spread, Better::Higher, 0.95, &mut Solved::default())
        };
        assert!(with(&pair, SPREAD).is_some());
        assert_eq!((with(&pair[..1], SPREAD), with(&[], SPREAD)), (None, None));
        assert_eq!(with(&pair, Spread { sd: 0.0, df: 4.0 }), None);
        assert_eq!(with(&pair, Spread { sd: 1.0, df: 0.0 }), None);
        assert_eq!(with(&groups(&[1.0, f64::NAN]), SPREAD), None);
    }
}

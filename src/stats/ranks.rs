//! Tests on ranks, for marks that have an order and no equal steps, and the agreement of two who give them.

use super::distributions::{chi_square_tail, normal_tail};
use super::permutation::{Tries, exchange};

/// Draws where there are too many arrangements to count.
const TRIES: Tries = Tries { draws: 19_999, most: 19_999, seed: 22 };

/// A two-sided p value and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RankP {
    /// The p value.
    pub p: f64,
    /// The smallest p that these numbers of values could reach.
    pub least: f64,
    /// Whether every arrangement of the ranks was counted.
    pub exact: bool,
}

/// The test of Kruskal and Wallis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KruskalWallis {
    /// The statistic, corrected for ties.
    pub h: f64,
    /// Groups - 1.
    pub df: f64,
    /// P by the chi-square distribution, good for many values in every group and never for groups of two.
    pub p_chi_square: f64,
    /// P by exchange of the ranks, all of them where they are few.
    pub by_exchange: RankP,
}

/// Whether several groups lie alike; `None` below two groups, where one is empty, a value is not finite, or all are equal.
///
/// Kruskal and Wallis (1952), Journal of the American Statistical Association 47, 583-621; mid-ranks for ties.
pub fn kruskal_wallis<G: AsRef<[f64]>>(groups: &[G]) -> Option<KruskalWallis> {
    let (values, labels) = labelled(groups)?;
    let ranks = mid_ranks(&values);
    let by_exchange = by_exchange(&ranks, &labels)?;
    let n = ranks.len() as f64;
    let sum = |group: usize| -> f64 {
        labels.iter().zip(&ranks).filter(|(label, _)| **label == group).map(|(_, rank)| rank).sum()
    };
    let between: f64 =
        groups.iter().enumerate().map(|(at, group)| sum(at).powi(2) / group.as_ref().len() as f64).sum();
    let h = (12.0 / (n * (n + 1.0)) * between - 3.0 * (n + 1.0)) / (1.0 - ties(&values) / (n * n * n - n));
    let df = groups.len() as f64 - 1.0;
    Some(KruskalWallis { h, df, p_chi_square: chi_square_tail(h, df)?, by_exchange })
}

/// Two groups against each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoGroups {
    /// Pairs of values in which the first group is ahead; ties count half.
    pub u: f64,
    /// P by the normal distribution, with ties and the correction for continuity, good for many values.
    pub p_normal: f64,
    /// P by exchange of the ranks.
    pub by_exchange: RankP,
}

/// The test of Wilcoxon, Mann and Whitney; `None` where a group is empty, a value is not finite, or all are equal.
///
/// Mann and Whitney (1947), Annals of Mathematical Statistics 18, 50-60; ties as in Lehmann (1975), Nonparametrics, 1.4.
pub fn two_groups(one: &[f64], other: &[f64]) -> Option<TwoGroups> {
    let (values, labels) = labelled(&[one, other])?;
    let ranks = mid_ranks(&values);
    let by_exchange = by_exchange(&ranks, &labels)?;
    let (a, b) = (one.len() as f64, other.len() as f64);
    let u = ranks[..one.len()].iter().sum::<f64>() - a * (a + 1.0) / 2.0;
    let n = a + b;
    let variance = a * b / 12.0 * (n + 1.0 - ties(&values) / (n * (n - 1.0)));
    let z = ((u - a * b / 2.0).abs() - 0.5).max(0.0) / variance.sqrt();
    Some(TwoGroups { u, p_normal: 2.0 * normal_tail(z), by_exchange })
}

/// The p value of two groups to print: by exchange of all arrangements where they can be counted, else by the normal distribution.
pub fn chosen(by_exchange: RankP, p_normal: f64) -> RankP {
    if by_exchange.exact { by_exchange } else { RankP { p: p_normal, ..by_exchange } }
}

fn labelled<G: AsRef<[f64]>>(groups: &[G]) -> Option<(Vec<f64>, Vec<usize>)> {
    if groups.len() < 2 || groups.iter().any(|group| group.as_ref().is_empty()) {
        return None;
    }
    let values: Vec<f64> = groups.iter().flat_map(|group| group.as_ref().iter().copied()).collect();
    let labels = groups.iter().enumerate().flat_map(|(at, group)| vec![at; group.as_ref().len()]).collect();
    values.iter().all(|value| value.is_finite()).then_some((values, labels))
}

// Groups lie apart in their ranks as far as the sum of squares between their rank sums says, whatever the test.
fn by_exchange(ranks: &[f64], labels: &[usize]) -> Option<RankP> {
    let found = exchange(ranks, labels, &[], TRIES)?;
    Some(RankP { p: found.p, least: found.least, exact: found.all })
}

/// The rank of every value, 1 for the smallest; equal values share the mean of their ranks.
pub(super) fn mid_ranks(values: &[f64]) -> Vec<f64> {
    let rank = |value: &f64| {
        let below = values.iter().filter(|&other| other < value).count() as f64;
        let equal = values.iter().filter(|&other| other <= value).count() as f64 - below;
        below + f64::midpoint(equal, 1.0)
    };
    values.iter().map(rank).collect()
}

/// Sum of t^3 - t over the groups of t equal values.
fn ties(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let cube = |equal: &[f64]| (equal.len() as f64).powi(3) - equal.len() as f64;
    sorted.chunk_by(|a, b| a >= b).map(cube).sum()
}

/// Agreement of two raters beyond chance, weighted by the distance of their marks: 1 for full agreement, 0 for chance.
///
/// `None` without pairs, where a mark is not finite, or where chance alone would always agree, as both gave one and the
/// same mark. Cohen (1968), Psychological Bulletin 70, 213-220, with weights in proportion to the distance.
pub fn weighted_kappa(pairs: &[(f64, f64)]) -> Option<f64> {
    if !pairs.iter().all(|pair| pair.0.is_finite() && pair.1.is_finite()) {
        return None;
    }
    let counts = |marks: Vec<f64>| -> Vec<(f64, f64)> {
        let mut sorted = marks;
        sorted.sort_by(f64::total_cmp);
        sorted.chunk_by(|a, b| a >= b).map(|equal| (equal[0], equal.len() as f64)).collect()
    };
    let one = counts(pairs.iter().map(|pair| pair.0).collect());
    let other = counts(pairs.iter().map(|pair| pair.1).collect());
    let by_chance: f64 =
        one.iter().flat_map(|a| other.iter().map(move |b| (a.0 - b.0).abs() * a.1 * b.1)).sum::<f64>()
            / pairs.len() as f64;
    let mut apart: Vec<f64> = pairs.iter().map(|pair| (pair.0 - pair.1).abs()).collect();
    apart.sort_by(f64::total_cmp);
    (by_chance > 0.0).then(|| 1.0 - apart.iter().sum::<f64>() / by_chance)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranks_of_equal_values_are_shared() {
        assert_eq!(mid_ranks(&[3.0, 1.0, 3.0, 2.0]), [3.5, 1.0, 3.5, 2.0]);
        assert!((ties(&[3.0, 1.0, 3.0, 3.0, 2.0, 2.0]) - 30.0).abs() < 1e-12);
    }

    #[test]
    fn two_against_six_cannot_fall_below_two_in_twenty_eight() {
        let found = two_groups(&[0.0, 1.0], &[2.0, 3.0, 4.0, 5.0, 6.0, 7.0]).unwrap();
        assert!((found.u, found.by_exchange.exact) == (0.0, true));
        assert!((found.by_exchange.p - 2.0 / 28.0).abs() < 1e-12);
        assert!((found.by_exchange.least - 2.0 / 28.0).abs() < 1e-12);
    }

    #[test]
    fn the_order_of_rows_and_a_stretch_of_the_marks_change_nothing() {
        let groups = [vec![0.0, 1.0, 1.0], vec![2.0, 2.0, 5.0], vec![1.0, 3.0]];
        let before = kruskal_wallis(&groups).unwrap();
        let turned = groups.clone().map(|group| group.into_iter().rev().collect::<Vec<f64>>());
        assert_eq!(kruskal_wallis(&turned).unwrap().by_exchange, before.by_exchange);
        let stretched = groups.map(|group| group.iter().map(|mark| mark.powi(3)).collect::<Vec<f64>>());
        assert_eq!(kruskal_wallis(&stretched).unwrap(), before);
    }

    #[test]
    fn agreement_is_one_at_best_and_zero_by_chance() {
        let kappa = |pairs: &[(f64, f64)]| weighted_kappa(pairs);
        assert_eq!(kappa(&[(0.0, 0.0), (2.0, 2.0), (5.0, 5.0)]), Some(1.0));
        assert_eq!(kappa(&[(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)]), Some(0.0));
        assert_eq!(kappa(&[(0.0, 1.0), (1.0, 0.0)]), Some(-1.0));
        assert_eq!(
            (kappa(&[]), kappa(&[(2.0, 2.0), (2.0, 2.0)]), kappa(&[(f64::NAN, 1.0)])),
            (None, None, None)
        );
    }

    #[test]
    fn tests_that_cannot_be_made_are_none() {
        assert_eq!(kruskal_wallis(&[vec![1.0, 2.0]]), None);
        assert_eq!(kruskal_wallis(&[vec![1.0, 1.0], vec![1.0]]), None);
        assert_eq!((two_groups(&[], &[1.0]), two_groups(&[1.0], &[f64::INFINITY])), (None, None));
    }
}

//! How often each of several groups comes first, or among the first three, when their means are drawn anew.

use super::hsu::Better;
use super::random::{Draws, Generator};
use super::summary::mean;
use super::{GroupMean, Spread};

/// The chances of one group.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RankChance {
    /// Share of the draws in which it comes first, 0 to 1; a tie is shared.
    pub first: f64,
    /// Share of the draws in which it is among the first three, 0 to 1.
    pub among_three: f64,
}

/// Chances where the values of every group are drawn anew from themselves, with replacement.
///
/// Means drawn so lie too near to the real one, by the root of (n - 1) / n, and by what n values leave open of their own spread. So every
/// one is set off by root(n / chi-square on n - 1 degrees of freedom), as a t statistic is from a normal one (Student 1908,
/// Biometrika 6, 1-25).
///
/// `None` below two groups, where a group has fewer than three values, or where a value is not finite. Efron (1979), Annals of
/// Statistics 7, 1-26. The order of values changes no bit, and neither does the order of groups that differ.
pub fn resampled<G: AsRef<[f64]>>(groups: &[G], better: Better, draws: Draws) -> Option<Vec<RankChance>> {
    let mut sorted: Vec<(usize, Vec<f64>)> =
        groups.iter().map(|group| group.as_ref().to_vec()).enumerate().collect();
    if !sorted.iter().all(|(_, values)| values.len() > 2 && mean(values).is_some()) {
        return None;
    }
    for (_, values) in &mut sorted {
        values.sort_by(f64::total_cmp);
    }
    sorted.sort_by(|(_, a), (_, b)| {
        let differs = a.iter().zip(b).map(|(x, y)| x.total_cmp(y)).find(|order| order.is_ne());
        differs.unwrap_or_else(|| a.len().cmp(&b.len()))
    });
    let mut times = Vec::new();
    tally(groups.len(), better, draws, |random, means| {
        for (place, values) in &sorted {
            // Summed in the order of the values, so that the same choice always gives the same mean.
            times.clear();
            times.resize(values.len(), 0_u32);
            (0..values.len()).for_each(|_| times[random.below(values.len())] += 1);
            let n = values.len() as f64;
            let drawn = values.iter().zip(&times).map(|(value, &n)| value * f64::from(n)).sum::<f64>() / n;
            let center = values.iter().sum::<f64>() / n;
            means[*place] = center + (n / random.chi_square(n - 1.0)?).sqrt() * (drawn - center);
        }
        Some(())
    })
}

/// Chances where every mean is drawn about itself with a spread that all groups share.
///
/// Each draw takes one spread, from its scaled chi-square distribution, and then every mean from a normal one: the
/// distribution of the means given the data, without other knowledge (Gelman et al. 2013, Bayesian Data Analysis, 3rd
/// edition, 3.2). `None` below two groups, where a group is empty, and where the spread is 0 or has fewer than 3
/// degrees of freedom.
pub fn from_shared_spread(
    groups: &[GroupMean],
    spread: Spread,
    better: Better,
    draws: Draws,
) -> Option<Vec<RankChance>> {
    let order = drawable(groups, &[spread])?;
    tally(groups.len(), better, draws, |random, means| {
        let sd = drawn_spread(random, spread)?;
        for &place in &order {
            means[place] = drawn_mean(random, groups[place], sd);
        }
        Some(())
    })
}

/// The same where every group has a spread of its own, in the order of `groups`.
pub fn from_own_spreads(
    groups: &[GroupMean],
    spreads: &[Spread],
    better: Better,
    draws: Draws,
) -> Option<Vec<RankChance>> {
    let order = drawable(groups, spreads).filter(|order| order.len() == spreads.len())?;
    tally(groups.len(), better, draws, |random, means| {
        for &place in &order {
            let sd = drawn_spread(random, spreads[place])?;
            means[place] = drawn_mean(random, groups[place], sd);
        }
        Some(())
    })
}

/// Chances where the means depend on each other, as those of treatments do that blocks link: they are drawn together about themselves
/// with their covariance, in squares of a spread that they share and that is drawn anew each time.
///
/// `None` as in [`from_shared_spread`], and where the covariance is not that of means of their own.
pub fn from_joint(
    groups: &[GroupMean],
    covariance: &[Vec<f64>],
    spread: Spread,
    better: Better,
    draws: Draws,
) -> Option<Vec<RankChance>> {
    let order = drawable(groups, &[spread])?;
    let root = root_of(covariance, &order)?;
    let mut normal = vec![0.0; order.len()];
    tally(groups.len(), better, draws, |random, means| {
        let sd = drawn_spread(random, spread)?;
        for one in &mut normal {
            *one = random.normal();
        }
        for (&place, row) in order.iter().zip(&root) {
            means[place] = groups[place].mean + sd * row.iter().zip(&normal).map(|(a, z)| a * z).sum::<f64>();
        }
        Some(())
    })
}

/// The lower triangle whose square is the covariance of the groups in `order` (Cholesky); `None` where there is none.
fn root_of(covariance: &[Vec<f64>], order: &[usize]) -> Option<Vec<Vec<f64>>> {
    let mut root: Vec<Vec<f64>> = Vec::with_capacity(order.len());
    for (at, &row) in order.iter().enumerate() {
        let mut own: Vec<f64> = Vec::with_capacity(at + 1);
        for (other, &column) in order[..at].iter().enumerate() {
            let known: f64 = own.iter().zip(&root[other]).map(|(a, b)| a * b).sum();
            own.push((covariance.get(row)?.get(column)? - known) / root[other][other]);
        }
        let left = covariance.get(row)?.get(row)? - own.iter().map(|a| a * a).sum::<f64>();
        if !(left.is_finite() && left > 0.0) {
            return None;
        }
        own.push(left.sqrt());
        root.push(own);
    }
    Some(root)
}

/// Places of the groups in order of their means, which does not depend on how they are given.
fn drawable(groups: &[GroupMean], spreads: &[Spread]) -> Option<Vec<usize>> {
    let sound = groups.iter().all(|group| group.mean.is_finite() && group.n > 0);
    let known = |spread: &Spread| spread.sd.is_finite() && spread.sd > 0.0 && spread.df >= 3.0;
    if !sound || !spreads.iter().all(known) {
        return None;
    }
    let mut order: Vec<usize> = (0..groups.len()).collect();
    order.sort_by(|&a, &b| groups[a].mean.total_cmp(&groups[b].mean).then(groups[a].n.cmp(&groups[b].n)));
    Some(order)
}

fn drawn_spread(random: &mut Generator, spread: Spread) -> Option<f64> {
    if spread.df.is_infinite() {
        return Some(spread.sd);
    }
    Some(spread.sd * (spread.df / random.chi_square(spread.df)?).sqrt())
}

fn drawn_mean(random: &mut Generator, group: GroupMean, sd: f64) -> f64 {
    group.mean + sd / (group.n as f64).sqrt() * random.normal()
}

/// Ranks the means of every draw and counts.
fn tally(
    groups: usize,
    better: Better,
    draws: Draws,
    mut draw: impl FnMut(&mut Generator, &mut [f64]) -> Option<()>,
) -> Option<Vec<RankChance>> {
    if groups < 2 || draws.count == 0 {
        return None;
    }
    let mut random = Generator::new(draws.seed);
    let mut chances = vec![RankChance { first: 0.0, among_three: 0.0 }; groups];
    let mut means = vec![0.0; groups];
    let mut order: Vec<usize> = (0..groups).collect();
    for _ in 0..draws.count {
        draw(&mut random, &mut means)?;
        order.sort_by(|&a, &b| match better {
            Better::Higher => means[b].total_cmp(&means[a]),
            Better::Lower => means[a].total_cmp(&means[b]),
        });
        let mut ahead = 0;
        for tied in order.chunk_by(|&a, &b| means[a].total_cmp(&means[b]).is_eq()) {
            if ahead >= 3 {
                break;
            }
            // The places that the tied groups fill are shared among them.
            let share =
                |places: usize| places.saturating_sub(ahead).min(tied.len()) as f64 / tied.len() as f64;
            for &place in tied {
                chances[place].first += share(1);
                chances[place].among_three += share(3);
            }
            ahead += tied.len();
        }
    }
    let all = f64::from(draws.count);
    for chance in &mut chances {
        chance.first /= all;
        chance.among_three /= all;
    }
    Some(chances)
}

#[cfg(test)]
mod tests {
    use super::super::distributions::t_tail;
    use super::*;

    const DRAWS: Draws = Draws { count: 20_000, seed: 1 };
    /// Four standard errors of a share of a half.
    const OFF: f64 = 4.0 * 0.003_54;

    fn means(values: &[f64]) -> Vec<GroupMean> {
        values.iter().map(|&mean| GroupMean { mean, n: 2 }).collect()
    }

    #[test]
    fn two_groups_follow_the_t_distribution() {
        let spread = Spread { sd: 1.5, df: 5.0 };
        let found = from_shared_spread(&means(&[10.0, 8.2]), spread, Better::Higher, DRAWS).unwrap();
        let expected = 1.0 - t_tail(1.8 / 1.5, 5.0).unwrap();
        assert!((found[0].first - expected).abs() < OFF, "{found:?} {expected}");
        assert!((found[0].first + found[1].first - 1.0).abs() < 1e-12);
        assert!(found.iter().all(|chance| (chance.among_three - 1.0).abs() < 1e-12));
    }

    /// The variance of a difference of two means with 0.6 and 0.9 on the diagonal and 0.3 beside it is 0.9 squares of the spread.
    #[test]
    fn means_that_depend_on_each_other_follow_the_t_of_their_difference() {
        let (groups, spread) = (means(&[10.0, 8.2]), Spread { sd: 1.5, df: 5.0 });
        let covariance = [vec![0.6, 0.3], vec![0.3, 0.9]];
        let found = from_joint(&groups, &covariance, spread, Better::Higher, DRAWS).unwrap();
        let expected = 1.0 - t_tail(1.8 / (1.5 * 0.9_f64.sqrt()), 5.0).unwrap();
        assert!((found[0].first - expected).abs() < OFF, "{found:?} {expected}");
        // Without what they share, it is the drawing of independent means, of two values each.
        let apart = [vec![0.5, 0.0], vec![0.0, 0.5]];
        let same = from_joint(&groups, &apart, spread, Better::Higher, DRAWS).unwrap();
        let independent = from_shared_spread(&groups, spread, Better::Higher, DRAWS).unwrap();
        assert!((same[0].first - independent[0].first).abs() < 1e-9, "{same:?} {independent:?}");
        let none = [vec![1.0, 1.0], vec![1.0, 1.0]];
        assert_eq!(from_joint(&groups, &none, spread, Better::Higher, DRAWS), None);
    }

    #[test]
    fn alike_groups_have_alike_chances_that_sum_up() {
        let spread = Spread { sd: 1.0, df: f64::INFINITY };
        let found = from_shared_spread(&means(&[4.0; 5]), spread, Better::Lower, DRAWS).unwrap();
        for chance in &found {
            assert!((chance.first - 0.2).abs() < OFF && (chance.among_three - 0.6).abs() < OFF, "{chance:?}");
        }
        assert!((found.iter().map(|chance| chance.first).sum::<f64>() - 1.0).abs() < 1e-9);
        assert!((found.iter().map(|chance| chance.among_three).sum::<f64>() - 3.0).abs() < 1e-9);
    }

    #[test]
    fn a_wide_spread_of_its_own_brings_a_group_behind_to_the_front() {
        let (groups, narrow) = (means(&[5.0, 4.0]), Spread { sd: 0.1, df: 9.0 });
        let wide = Spread { sd: 9.0, df: 9.0 };
        let with = |spreads: &[Spread]| from_own_spreads(&groups, spreads, Better::Higher, DRAWS);
        assert!(with(&[narrow, narrow]).unwrap()[1].first < 0.01);
        assert!((with(&[narrow, wide]).unwrap()[1].first - 0.44).abs() < 0.02);
        assert_eq!((with(&[narrow]), with(&[])), (None, None));
    }

    /// Six against six: a plain draw would give the one behind 1.4 % where Welch's t leaves it 3.7 %.
    #[test]
    fn six_values_are_no_surer_than_their_t_statistic() {
        let (one, other) = ([10.1, 11.3, 9.2, 10.8, 9.6, 10.0], [8.5, 9.8, 7.9, 9.1, 9.9, 8.2]);
        let behind = resampled(&[one, other], Better::Higher, DRAWS).unwrap()[1].first;
        let by_t = super::super::welch::difference(&one, &other).unwrap().p().unwrap() / 2.0;
        // Four standard errors of that share in 20,000 draws; with two spreads to learn it is a little less sure still.
        let off = 4.0 * (by_t * (1.0 - by_t) / f64::from(DRAWS.count)).sqrt();
        assert!(behind > by_t - off && behind < by_t + 0.02, "{behind} {by_t}");
    }

    #[test]
    fn equal_values_share_every_place() {
        let found = resampled(&[[3.0; 3], [3.0; 3], [1.0; 3]], Better::Higher, DRAWS).unwrap();
        let chance = |first, among_three| RankChance { first, among_three };
        assert_eq!(found, [chance(0.5, 1.0), chance(0.5, 1.0), chance(0.0, 1.0)]);
    }

    #[test]
    fn the_order_of_rows_and_groups_changes_no_bit() {
        let groups = [vec![72.4, 70.1, 74.0], vec![69.8, 73.2, 71.5, 70.0], vec![66.2, 70.4, 68.9]];
        let mut turned = groups.clone().map(|values| values.into_iter().rev().collect::<Vec<f64>>());
        turned.rotate_left(1);
        let mut expected = resampled(&groups, Better::Higher, DRAWS).unwrap();
        expected.rotate_left(1);
        assert_eq!(resampled(&turned, Better::Higher, DRAWS).unwrap(), expected);
        let (mut some, spread) = (means(&[3.0, 5.0, 4.5, 1.0]), Spread { sd: 1.0, df: 4.0 });
        let mut expected = from_shared_spread(&some, spread, Better::Higher, DRAWS).unwrap();
        some.rotate_left(2);
        expected.rotate_left(2);
        assert_eq!(from_shared_spread(&some, spread, Better::Higher, DRAWS).unwrap(), expected);
    }

    #[test]
    fn chances_that_cannot_be_drawn_are_none() {
        let (groups, spread) = (means(&[1.0, 2.0]), Spread { sd: 1.0, df: 3.0 });
        let with = |groups: &[GroupMean], spread| from_shared_spread(groups, spread, Better::Higher, DRAWS);
        assert!(with(&groups, spread).is_some());
        assert_eq!((with(&groups[..1], spread), with(&[], spread)), (None, None));
        for bad in
            [Spread { sd: 0.0, df: 9.0 }, Spread { sd: 1.0, df: 2.9 }, Spread { sd: f64::NAN, df: 9.0 }]
        {
            assert_eq!(with(&groups, bad), None);
        }
        assert_eq!(with(&means(&[1.0, f64::NAN]), spread), None);
        assert_eq!(resampled(&[vec![1.0, 2.0, 3.0], vec![]], Better::Higher, DRAWS), None);
        assert_eq!(resampled(&[vec![1.0, 2.0, 3.0], vec![1.0, 2.0]], Better::Higher, DRAWS), None);
        let none = Draws { count: 0, seed: 1 };
        assert_eq!(resampled(&[[1.0, 1.5, 2.0], [2.0, 3.0, 1.0]], Better::Higher, none), None);
    }
}

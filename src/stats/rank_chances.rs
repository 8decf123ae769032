//! How often each of several groups comes first, or among the first three, when their means are drawn anew.

use super::hsu::Better;
use super::random::Generator;
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

/// How many draws are made, and from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Draws {
    /// Number of draws.
    pub count: u32,
    /// Seed of the generator of [`super::random`].
    pub seed: u64,
}

/// Chances where the values of every group are drawn anew from themselves, with replacement.
///
/// `None` below two groups, where a group is empty, or where a value is not finite. Efron (1979), Annals of Statistics
/// 7, 1-26. The order of values changes no bit, and neither does the order of groups that differ.
pub fn resampled<G: AsRef<[f64]>>(groups: &[G], better: Better, draws: Draws) -> Option<Vec<RankChance>> {
    let mut sorted: Vec<(usize, Vec<f64>)> =
        groups.iter().map(|group| group.as_ref().to_vec()).enumerate().collect();
    if !sorted.iter().all(|(_, values)| mean(values).is_some()) {
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
            let sum: f64 = values.iter().zip(&times).map(|(value, &n)| value * f64::from(n)).sum();
            means[*place] = sum / values.len() as f64;
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

    #[test]
    fn equal_values_share_every_place() {
        let found = resampled(&[[3.0, 3.0], [3.0, 3.0], [1.0, 1.0]], Better::Higher, DRAWS).unwrap();
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
        assert_eq!(resampled(&[vec![1.0], vec![]], Better::Higher, DRAWS), None);
        let none = Draws { count: 0, seed: 1 };
        assert_eq!(resampled(&[[1.0], [2.0]], Better::Higher, none), None);
    }
}

//! Tests on ranks within blocks: marks of one block are held against each other only, so that what a block adds decides nothing.

use super::blocks::OnBlocks;
use super::distributions::{chi_square_tail, normal_tail};
use super::fit::linear::regress;
use super::random::Generator;
use super::ranks::{RankP, mid_ranks};
use super::summary::sorted_sum;
use std::collections::BTreeMap;

/// Draws of the test of all groups, and their seed.
const DRAWS: usize = 19_999;
const SEED: u64 = 24;
/// Sums that differ by less than this share differ by rounding.
const ROUNDING: f64 = 1e-10;
/// Distinct sums up to which all ways to deal out the ranks are counted, and ways in one block.
const SUMS: usize = 50_000;
const WAYS: f64 = 5_000.0;
/// Sums are told apart in steps of this part.
const STEPS: f64 = 1e9;

/// All groups together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WithinBlocksRanks {
    /// The statistic; where every block has every group once, that of Friedman, corrected for ties.
    pub statistic: f64,
    /// Groups - 1.
    pub df: f64,
    /// P by the chi-square distribution, good for many blocks.
    pub p_chi_square: f64,
    /// P by exchange of the ranks within their blocks.
    pub by_exchange: RankP,
}

/// Two groups against each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoWithinBlocks {
    /// Weighted rank sum of the first less what is expected: above 0 where it lies higher.
    pub ahead: f64,
    /// The p value.
    pub p: RankP,
}

/// Marks of one block: their ranks, and the group of each.
struct Block {
    ranks: Vec<f64>,
    groups: Vec<usize>,
}

impl Block {
    fn n(&self) -> f64 {
        self.ranks.len() as f64
    }

    fn middle(&self) -> f64 {
        f64::midpoint(self.n(), 1.0)
    }

    /// Variance of one rank that is dealt out by chance, with ties.
    fn variance(&self) -> f64 {
        let squares = self.ranks.iter().map(|rank| (rank - self.middle()).powi(2)).collect();
        sorted_sum(squares) / (self.n() - 1.0)
    }
}

/// The blocks with two marks or more; `None` where lengths differ, a mark is not finite, or there is no such block.
fn blocks(groups: &[OnBlocks<'_>]) -> Option<Vec<Block>> {
    let mut all: BTreeMap<usize, (Vec<f64>, Vec<usize>)> = BTreeMap::new();
    for (group, (values, blocks)) in groups.iter().enumerate() {
        if values.len() != blocks.len() || values.iter().any(|value| !value.is_finite()) {
            return None;
        }
        for (&value, &block) in values.iter().zip(*blocks) {
            let own = all.entry(block).or_default();
            own.0.push(value);
            own.1.push(group);
        }
    }
    let some = all.into_values().filter(|(values, _)| values.len() > 1);
    let found: Vec<Block> =
        some.map(|(values, groups)| Block { ranks: mid_ranks(&values), groups }).collect();
    (!found.is_empty()).then_some(found)
}

/// Whether several groups lie alike within their blocks; `None` below two groups, where blocks do not link them, or all marks of each
/// block are equal.
///
/// Skillings and Mack (1981), Technometrics 23, 171-177, for blocks that lack some of the groups; where none is lacking it is the test of
/// Friedman (1937), Journal of the American Statistical Association 32, 675-701. The variance of a rank is that of the ranks as they are,
/// so that ties are corrected for.
pub fn all_within(groups: &[OnBlocks<'_>]) -> Option<WithinBlocksRanks> {
    let blocks = blocks(groups)?;
    let free = groups.len().checked_sub(1).filter(|&free| free > 0)?;
    let mut covariance = vec![vec![0.0; free]; free];
    for block in &blocks {
        let of = |group: usize| block.groups.iter().filter(|&&own| own == group).count() as f64;
        let scale = 12.0 / (block.n() + 1.0) * block.variance();
        for (one, row) in covariance.iter_mut().enumerate() {
            for (other, cell) in row.iter_mut().enumerate() {
                let same = if one == other { of(one) } else { 0.0 };
                *cell += scale * (same - of(one) * of(other) / block.n());
            }
        }
    }
    // The covariance takes no part in the exchange, so that its inverse is found once.
    let unit = |at: usize| (0..free).map(|one| f64::from(u8::from(one == at))).collect::<Vec<f64>>();
    let inverse: Option<Vec<Vec<f64>>> =
        (0..free).map(|at| Some(regress(&covariance, &unit(at))?.coefficients)).collect();
    let inverse = inverse?;
    let statistic = |blocks: &[Block]| {
        let sums = rank_sums(blocks, free);
        let of = |(one, row): (usize, &Vec<f64>)| -> f64 {
            row.iter().zip(&sums).map(|(cell, sum)| cell * sum).sum::<f64>() * sums[one]
        };
        inverse.iter().enumerate().map(of).sum::<f64>()
    };
    let (real, df) = (statistic(&blocks), free as f64);
    let mut dealt = blocks;
    let mut random = Generator::new(SEED);
    let mut as_far = 1;
    for _ in 0..DRAWS {
        for block in &mut dealt {
            random.shuffle(&mut block.groups);
        }
        as_far += usize::from(statistic(&dealt) >= real * (1.0 - ROUNDING));
    }
    let share = |n: usize| n as f64 / (DRAWS + 1) as f64;
    Some(WithinBlocksRanks {
        statistic: real,
        df,
        p_chi_square: chi_square_tail(real, df)?,
        by_exchange: RankP { p: share(as_far), least: share(1), exact: false },
    })
}

/// The weighted rank sums of all groups but the last, less what is expected.
fn rank_sums(blocks: &[Block], free: usize) -> Vec<f64> {
    let mut sums = vec![0.0; free];
    for block in blocks {
        let weight = (12.0 / (block.n() + 1.0)).sqrt();
        for (&group, rank) in block.groups.iter().zip(&block.ranks) {
            if let Some(sum) = sums.get_mut(group) {
                *sum += weight * (rank - block.middle());
            }
        }
    }
    sums
}

/// The smallest p that two groups can reach within their blocks where no marks are equal: that of the design, whatever was read.
pub fn least_within(one: &[usize], other: &[usize]) -> f64 {
    let mut known: Vec<usize> = one.iter().chain(other).copied().collect();
    known.sort_unstable();
    known.dedup();
    let of = |blocks: &[usize], block: usize| blocks.iter().filter(|&&own| own == block).count();
    let ways = |block: usize| -> f64 {
        let (a, b) = (of(one, block), of(other, block));
        (0..a).map(|at| (a + b - at) as f64 / (at + 1) as f64).product()
    };
    (2.0 / known.into_iter().map(ways).product::<f64>()).min(1.0)
}

/// Two groups within blocks; `None` where no block has both, or the marks of each such block are all equal.
///
/// Van Elteren (1960), Bulletin of the International Statistical Institute 37, 351-361: Wilcoxon's rank sums, each over the marks of its
/// block plus one. With one mark of each on every block it is the sign test. P by every way to deal out the ranks within the blocks, or by
/// the normal distribution where they are too many.
pub fn two_within(one: OnBlocks<'_>, other: OnBlocks<'_>) -> Option<TwoWithinBlocks> {
    let mut blocks = blocks(&[one, other])?;
    blocks.retain(|block| block.groups.contains(&0) && block.groups.contains(&1) && block.variance() > 0.0);
    if blocks.is_empty() {
        return None;
    }
    let own = |block: &Block| block.groups.iter().filter(|&&group| group == 0).count();
    let weighted = |block: &Block, sum: f64| (sum - own(block) as f64 * block.middle()) / (block.n() + 1.0);
    let sum_of = |block: &Block| -> f64 {
        block.groups.iter().zip(&block.ranks).filter(|(group, _)| **group == 0).map(|(_, rank)| rank).sum()
    };
    let ahead: f64 = blocks.iter().map(|block| weighted(block, sum_of(block))).sum();
    let Some(all) = every_sum(&blocks, &own, &weighted) else {
        let variance: f64 = blocks
            .iter()
            .map(|block| {
                let a = own(block) as f64;
                a * (block.n() - a) / block.n() * block.variance() / (block.n() + 1.0).powi(2)
            })
            .sum();
        let p = 2.0 * normal_tail(ahead.abs() / variance.sqrt());
        return Some(TwoWithinBlocks { ahead, p: RankP { p: p.min(1.0), least: 0.0, exact: false } });
    };
    let at_least = |limit: i64| -> f64 {
        all.iter().filter(|(sum, _)| sum.abs() >= limit).map(|(_, share)| share).sum::<f64>().min(1.0)
    };
    // Sums of as many roundings as blocks differ by less than a step each.
    let slack = i64::try_from(blocks.len()).unwrap_or(i64::MAX);
    let farthest = all.keys().map(|sum| sum.abs()).max()?;
    let p = at_least(step(ahead.abs()) - slack);
    Some(TwoWithinBlocks { ahead, p: RankP { p, least: at_least(farthest - slack), exact: true } })
}

#[expect(clippy::cast_possible_truncation, reason = "a sum is below half the number of its marks")]
fn step(sum: f64) -> i64 {
    (sum * STEPS).round() as i64
}

/// Every weighted sum that the blocks can give together, with its share of all ways; `None` where they are too many.
fn every_sum(
    blocks: &[Block],
    own: &impl Fn(&Block) -> usize,
    weighted: &impl Fn(&Block, f64) -> f64,
) -> Option<BTreeMap<i64, f64>> {
    let mut all = BTreeMap::from([(0_i64, 1.0)]);
    for block in blocks {
        let (n, a) = (block.ranks.len(), own(block));
        let ways = (0..a).map(|at| (n - at) as f64 / (at + 1) as f64).product::<f64>();
        if ways > WAYS {
            return None;
        }
        let mut sums = Vec::new();
        choose(&block.ranks, a, 0.0, &mut sums);
        let mut of_block: BTreeMap<i64, f64> = BTreeMap::new();
        for sum in &sums {
            *of_block.entry(step(weighted(block, *sum))).or_default() += 1.0 / sums.len() as f64;
        }
        let mut next: BTreeMap<i64, f64> = BTreeMap::new();
        for (sum, share) in &all {
            for (more, part) in &of_block {
                *next.entry(sum + more).or_default() += share * part;
            }
        }
        if next.len() > SUMS {
            return None;
        }
        all = next;
    }
    Some(all)
}

/// The sums of all choices of so many of the ranks.
fn choose(ranks: &[f64], n: usize, sum: f64, sums: &mut Vec<f64>) {
    match (n, ranks.split_first()) {
        (0, _) => sums.push(sum),
        (_, Some((first, rest))) => {
            if rest.len() + 1 >= n {
                choose(rest, n - 1, sum + first, sums);
                choose(rest, n, sum, sums);
            }
        }
        (_, None) => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The groups of a table of blocks, a row each; NaN where a block lacks one.
    fn columns<const N: usize>(rows: &[[f64; N]]) -> Vec<(Vec<f64>, Vec<usize>)> {
        let of = |group: usize| {
            let read = rows.iter().enumerate().filter(|(_, row)| !row[group].is_nan());
            read.map(|(block, row)| (row[group], block)).unzip()
        };
        (0..N).map(of).collect()
    }

    fn all<const N: usize>(rows: &[[f64; N]]) -> Option<WithinBlocksRanks> {
        let columns = columns(rows);
        let groups: Vec<OnBlocks<'_>> = columns.iter().map(|(a, b)| (a.as_slice(), b.as_slice())).collect();
        all_within(&groups)
    }

    /// Times to round first base by three methods, 22 players (Hollander and Wolfe 1973, Nonparametric Statistical Methods, table 7.1;
    /// from memory, and worked out anew with `scipy` 1.17, `friedmanchisquare`): 11.143 on 2 degrees of freedom, p 0.003805.
    #[test]
    fn complete_blocks_give_the_published_statistic_of_friedman() {
        let rows = [
            [5.40, 5.50, 5.55],
            [5.85, 5.70, 5.75],
            [5.20, 5.60, 5.50],
            [5.55, 5.50, 5.40],
            [5.90, 5.85, 5.70],
            [5.45, 5.55, 5.60],
            [5.40, 5.40, 5.35],
            [5.45, 5.50, 5.35],
            [5.25, 5.15, 5.00],
            [5.85, 5.80, 5.70],
            [5.25, 5.20, 5.10],
            [5.65, 5.55, 5.45],
            [5.60, 5.35, 5.45],
            [5.05, 5.00, 4.95],
            [5.50, 5.50, 5.40],
            [5.45, 5.55, 5.50],
            [5.55, 5.55, 5.35],
            [5.45, 5.50, 5.55],
            [5.50, 5.45, 5.25],
            [5.65, 5.60, 5.40],
            [5.70, 5.65, 5.55],
            [6.30, 6.30, 6.25],
        ];
        let found = all(&rows).unwrap();
        assert!((found.statistic - 11.142_857_142_857).abs() < 1e-9 && (found.df - 2.0).abs() < 1e-12);
        assert!((found.p_chi_square - 0.003_805_040_775).abs() < 1e-9, "{found:?}");
        // Four standard errors of a share of 0.0028 in 20 000 draws.
        assert!((found.by_exchange.p - 0.0028).abs() < 0.0018, "{found:?}");
    }

    /// Times of nine workers with four ways to assemble, three of them lacking (Skillings and Mack 1981, the worked example; from memory,
    /// and worked out anew with `numpy` by their formulas): 15.493 on 3 degrees of freedom, p 0.00144.
    #[test]
    fn blocks_that_lack_some_give_the_published_statistic_of_skillings_and_mack() {
        const NO: f64 = f64::NAN;
        let rows = [
            [3.2, 4.1, 3.8, 4.2],
            [3.1, 3.9, 3.4, 4.0],
            [4.3, 3.5, 4.6, 4.8],
            [3.5, 3.6, 3.9, 4.0],
            [3.6, 4.2, 3.7, 3.9],
            [4.5, 4.7, 3.7, NO],
            [NO, 4.2, 3.4, NO],
            [4.3, 4.6, 4.4, 4.9],
            [3.5, NO, 3.7, 3.9],
        ];
        let found = all(&rows).unwrap();
        assert!((found.statistic - 15.493_048_797_529).abs() < 1e-9, "{found:?}");
        assert!((found.p_chi_square - 0.001_440_296_302).abs() < 1e-9, "{found:?}");
    }

    /// Every way to deal out the ranks, by enumeration in Python: blocks of two and two, and one of one and two.
    #[test]
    fn two_groups_count_every_way_within_the_blocks() {
        let one: OnBlocks<'_> = (&[1.0, 2.0, 0.0, 2.0, 1.0, 1.0, 2.0], &[0, 0, 1, 1, 2, 2, 3]);
        let other: OnBlocks<'_> = (&[3.0, 4.0, 2.0, 5.0, 3.0, 2.0, 3.0, 3.0], &[0, 0, 1, 1, 2, 2, 3, 3]);
        let found = two_within(one, other).unwrap();
        assert!((found.ahead + 1.35).abs() < 1e-9 && found.p.exact, "{found:?}");
        assert!((found.p.p - 0.003_086_419_753).abs() < 1e-9, "{found:?}");
        assert!((found.p.least - 0.003_086_419_753).abs() < 1e-9, "{found:?}");
    }

    /// One of each on six blocks, ahead on one: 14 of 64 signs, as by `scipy` 1.17 (`binomtest`).
    #[test]
    fn one_of_each_is_the_sign_test_and_what_a_block_adds_does_nothing() {
        let blocks: Vec<usize> = (0..6).collect();
        let (own, bare) = ([1.0, 0.0, 1.0, 2.0, 0.0, 1.0], [3.0, 2.0, 3.0, 1.0, 4.0, 2.0]);
        let found = two_within((&own, &blocks), (&bare, &blocks)).unwrap();
        assert!((found.p.p - 0.21875).abs() < 1e-12 && (found.p.least - 0.03125).abs() < 1e-12, "{found:?}");
        let add = |marks: [f64; 6]| -> Vec<f64> {
            marks.iter().enumerate().map(|(block, mark)| mark + 10.0 * block as f64).collect()
        };
        assert_eq!(two_within((&add(own), &blocks), (&add(bare), &blocks)), Some(found));
    }

    #[test]
    fn few_blocks_can_tell_nothing_however_far_marks_lie_apart() {
        let blocks: Vec<usize> = (0..6).collect();
        assert!((least_within(&blocks, &blocks) - 2.0 / 64.0).abs() < 1e-12);
        // Two and two on three blocks: six ways on each.
        let twice = [0, 0, 1, 1, 2, 2];
        assert!((least_within(&twice, &twice) - 2.0 / 216.0).abs() < 1e-12);
        assert!((least_within(&[0, 1], &[2, 3]) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn what_blocks_do_not_link_is_not_compared() {
        assert_eq!(two_within((&[1.0, 2.0], &[0, 1]), (&[3.0, 4.0], &[2, 3])), None);
        assert_eq!(two_within((&[1.0, 1.0], &[0, 1]), (&[1.0, 1.0], &[0, 1])), None);
        assert_eq!(all(&[[1.0, f64::NAN], [f64::NAN, 2.0]]), None);
    }

    /// Many blocks of many marks: the normal distribution, close to what chance gives.
    #[test]
    fn many_marks_are_judged_by_the_normal_distribution() {
        let blocks: Vec<usize> = (0..60).map(|at| at / 15).collect();
        let own: Vec<f64> = (0..60).map(|at| f64::from(at % 15)).collect();
        let bare: Vec<f64> = own.iter().map(|mark| mark + 0.5).collect();
        let found = two_within((&own, &blocks), (&bare, &blocks)).unwrap();
        assert!(!found.p.exact && found.p.p > 0.3 && found.p.p < 1.0, "{found:?}");
    }
}

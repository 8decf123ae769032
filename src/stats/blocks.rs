//! Treatments that lie on blocks unevenly: their means at the same blocks, and the differences between these.

use super::anova::pooled_spread;
use super::fit::linear::regress;
use super::studentized_range::StudentizedRange;
use super::summary::mean;
use super::{GroupMean, Pair, Spread, pairs_of};
use std::collections::{BTreeMap, BTreeSet};

/// A column of which less than this share is left beside the others depends on them.
const DEPENDENT: f64 = 1e-9;

/// Least squares of one number on its treatment and its block, without interaction.
#[derive(Clone, Debug, PartialEq)]
pub struct WithinBlocks {
    /// The mean of every treatment over all blocks, each block counting alike, and its number of values.
    pub means: Vec<GroupMean>,
    /// Scatter beside treatments and blocks, on values - treatments - blocks + ways of blocking degrees of freedom.
    pub spread: Spread,
    /// Covariances of the means, in squares of the spread.
    inverse: Vec<Vec<f64>>,
}

/// More groups than this are taken out by their means, where they are of one kind.
const MANY: usize = 50;

/// One value of every unit of a treatment, and the block that each lies on, by one way of blocking or by several that cross.
pub type OnWays<'a> = (&'a [f64], Vec<&'a [usize]>);

/// One value of every unit of a treatment, and the block that each lies on.
pub type OnBlocks<'a> = (&'a [f64], &'a [usize]);

/// What a model of nothing but groups leaves: every value is the sum of one number for each of its groups, of any number of kinds.
/// Groups may depend on those of other kinds, as planks that each stand at one site.
///
/// `None` where no degree of freedom is left, lengths differ or a number is not finite. Gram and Schmidt's orthogonal columns, each made
/// twice (Bjorck 1967, BIT 7, 1-21).
pub fn left(values: &[f64], kinds: &[Vec<usize>]) -> Option<Spread> {
    let (rest, df) = residuals(values, kinds)?;
    Some(Spread { sd: (dot(&rest, &rest) / df).sqrt(), df })
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// What the means of groups leave.
fn about_means(values: &[f64], groups: &[usize]) -> Option<(Vec<f64>, f64)> {
    let mut own: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    groups.iter().zip(values).for_each(|(&group, &value)| own.entry(group).or_default().push(value));
    let df = values.len().checked_sub(own.len()).filter(|&df| df > 0)? as f64;
    let means: Option<BTreeMap<usize, f64>> =
        own.into_iter().map(|(group, values)| Some((group, mean(&values)?))).collect();
    let means = means?;
    Some((groups.iter().zip(values).map(|(group, value)| value - means[group]).collect(), df))
}

/// The same, value by value: what such a model leaves of each, and its degrees of freedom.
pub fn residuals(values: &[f64], kinds: &[Vec<usize>]) -> Option<(Vec<f64>, f64)> {
    let finite = values.iter().all(|value| value.is_finite());
    if !finite || kinds.iter().any(|kind| kind.len() != values.len()) {
        return None;
    }
    // Groups of one kind are at right angles, so that the mean of each is all that they take out: the short way where they are many.
    let parts = |kind: &&Vec<usize>| kind.windows(2).any(|two| two[0] != two[1]);
    let many = |kind: &Vec<usize>| kind.iter().collect::<BTreeSet<_>>().len() > MANY;
    if let [kind] = kinds.iter().filter(parts).collect::<Vec<_>>().as_slice()
        && many(kind)
    {
        return about_means(values, kind);
    }
    let without = |mut column: Vec<f64>, known: &[Vec<f64>]| {
        for direction in known.iter().chain(known) {
            let along = dot(&column, direction);
            column.iter_mut().zip(direction).for_each(|(own, of)| *own -= along * of);
        }
        column
    };
    let mut known: Vec<Vec<f64>> = Vec::new();
    for kind in kinds {
        let groups: BTreeSet<usize> = kind.iter().copied().collect();
        for group in groups {
            let column: Vec<f64> = kind.iter().map(|&own| f64::from(u8::from(own == group))).collect();
            let size = dot(&column, &column).sqrt();
            let column = without(column, &known);
            let rest = dot(&column, &column).sqrt();
            if rest > DEPENDENT * size {
                known.push(column.iter().map(|own| own / rest).collect());
            }
        }
    }
    let df = values.len().checked_sub(known.len()).filter(|&df| df > 0)? as f64;
    // About the mean, so that what is left keeps its digits.
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    Some((without(values.iter().map(|value| value - mean).collect(), &known), df))
}

/// A weighted sum of the means of cells, by least squares beside what blocks of any number of kinds add, and its variance in squares of
/// the scatter: the best linear unbiased estimate of what is estimable at all (Searle 1971, Linear Models, chapter 5).
///
/// `None` where blocks do not link the cells of the sum, so that it cannot be told from what they add, or lengths differ.
pub fn weighted(
    values: &[f64],
    cells: &[usize],
    ways: &[Vec<usize>],
    weight: impl Fn(usize) -> f64,
) -> Option<(f64, f64)> {
    if cells.len() != values.len() || ways.iter().any(|way| way.len() != values.len()) {
        return None;
    }
    let mut sizes: BTreeMap<usize, f64> = BTreeMap::new();
    for &cell in cells {
        *sizes.entry(cell).or_default() += 1.0;
    }
    // The plain sum, as what every value counts in it. What is taken off it lies within cells, and undoes what blocks add to it.
    let plain: Vec<f64> = cells.iter().map(|&cell| weight(cell) / sizes[&cell]).collect();
    let (mut known, mut off): (Vec<Vec<f64>>, Vec<f64>) = (Vec::new(), vec![0.0; values.len()]);
    for way in ways {
        for block in way.iter().copied().collect::<BTreeSet<usize>>() {
            let column: Vec<f64> = way.iter().map(|&own| f64::from(u8::from(own == block))).collect();
            let lacks = dot(&plain, &column) - dot(&off, &column);
            let size = dot(&column, &column).sqrt();
            let mut rest = within_cells(column, cells, &sizes);
            for direction in known.iter().chain(&known) {
                let along = dot(&rest, direction);
                rest.iter_mut().zip(direction).for_each(|(own, of)| *own -= along * of);
            }
            let length = dot(&rest, &rest).sqrt();
            if length > DEPENDENT * size {
                let rest: Vec<f64> = rest.iter().map(|own| own / length).collect();
                off.iter_mut().zip(&rest).for_each(|(own, of)| *own += lacks / length * of);
                known.push(rest);
            } else if lacks.abs() > DEPENDENT * size {
                return None;
            }
        }
    }
    let counts: Vec<f64> = plain.iter().zip(&off).map(|(plain, off)| plain - off).collect();
    Some((dot(&counts, values), dot(&counts, &counts)))
}

fn within_cells(column: Vec<f64>, cells: &[usize], sizes: &BTreeMap<usize, f64>) -> Vec<f64> {
    let mut sums: BTreeMap<usize, f64> = BTreeMap::new();
    cells.iter().zip(&column).for_each(|(&cell, own)| *sums.entry(cell).or_default() += own);
    cells.iter().zip(column).map(|(cell, own)| own - sums[cell] / sizes[cell]).collect()
}

/// The intra-block analysis of treatments; blocks are numbered in any way.
///
/// What one block adds to all its values takes no part in it. `None` below two treatments or blocks, where blocks do not link all
/// treatments with each other, no degree of freedom is left, or a number is not finite. Yates (1936), Journal of Agricultural Science
/// 26, 424-455, for balanced incomplete blocks; any others as in Cochran and Cox (1957), Experimental Designs, 2nd edition, chapter 9.
pub fn fit(treatments: &[OnWays<'_>]) -> Option<WithinBlocks> {
    let values: Vec<f64> = treatments.iter().flat_map(|(values, _)| values.iter().copied()).collect();
    let ways = treatments.iter().map(|(_, ways)| ways.len()).max()?;
    let along = |way: usize| -> Option<Vec<usize>> {
        let own = treatments.iter().map(|(_, ways)| ways.get(way).copied());
        Some(own.collect::<Option<Vec<_>>>()?.concat())
    };
    let blocks: Vec<Vec<usize>> = (0..ways).map(along).collect::<Option<_>>()?;
    let sizes = || treatments.iter().map(|(values, _)| values.len());
    let own: Vec<usize> = sizes().enumerate().flat_map(|(at, n)| vec![at; n]).collect();
    let known: Vec<Vec<usize>> =
        blocks.iter().map(|own| BTreeSet::from_iter(own).into_iter().copied().collect()).collect();
    let one = known.iter().any(|known| known.len() < 2) || blocks.iter().any(|own| own.len() != values.len());
    if one || treatments.len() < 2 || sizes().any(|n| n == 0) {
        return None;
    }
    // The effects of blocks sum to zero, so that the column of a treatment is its mean over all of them.
    let column_of = |treatment: usize| own.iter().map(|&one| f64::from(u8::from(one == treatment))).collect();
    let column_at = |way: usize, block: usize| {
        let of = |&at: &usize| f64::from(i8::from(at == block) - i8::from(at == known[way][0]));
        blocks[way].iter().map(of).collect()
    };
    let of_blocks = (0..ways).flat_map(|way| known[way][1..].iter().map(move |&block| (way, block)));
    let columns: Vec<Vec<f64>> = (0..treatments.len())
        .map(column_of)
        .chain(of_blocks.map(|(way, block)| column_at(way, block)))
        .collect();
    let found = regress(&columns, &values)?;
    let means = found.coefficients.iter().zip(sizes()).map(|(&mean, n)| GroupMean { mean, n }).collect();
    Some(WithinBlocks { means, spread: found.spread?, inverse: found.inverse().to_vec() })
}

/// The mean of every treatment over the blocks, each block counting alike, where treatments may do otherwise on one block than on another:
/// the average of its means on each, with the scatter of values of one treatment on one block.
///
/// Means of cells in a fixed two-way layout (Searle 1987, Linear Models for Unbalanced Data, chapter 4): such an average has the
/// variance s^2 / b^2 times the sum of 1 / n over its b blocks. `None` below two treatments or blocks, where a treatment is
/// missing on a block, or nothing is left to judge by.
pub fn averaged(treatments: &[OnBlocks<'_>]) -> Option<WithinBlocks> {
    let known: BTreeSet<usize> = treatments.iter().flat_map(|(_, own)| own.iter().copied()).collect();
    if known.len() < 2 || treatments.len() < 2 || treatments.iter().any(|(own, on)| own.len() != on.len()) {
        return None;
    }
    let number = known.len() as f64;
    let cell = |&(values, on): &OnBlocks<'_>, block: usize| -> Vec<f64> {
        values.iter().zip(on).filter(|&(_, &own)| own == block).map(|(&value, _)| value).collect()
    };
    let cells: Vec<Vec<Vec<f64>>> =
        treatments.iter().map(|own| known.iter().map(|&block| cell(own, block)).collect()).collect();
    let mean_of = |own: &Vec<Vec<f64>>| -> Option<f64> {
        Some(own.iter().map(|cell| mean(cell)).sum::<Option<f64>>()? / number)
    };
    let variance_of = |own: &Vec<Vec<f64>>| -> f64 {
        own.iter().map(|cell| 1.0 / cell.len() as f64).sum::<f64>() / (number * number)
    };
    let means: Option<Vec<f64>> = cells.iter().map(mean_of).collect();
    let means = means?.into_iter().zip(treatments).map(|(mean, (own, _))| GroupMean { mean, n: own.len() });
    let mut inverse = vec![vec![0.0; cells.len()]; cells.len()];
    for (at, own) in cells.iter().enumerate() {
        inverse[at][at] = variance_of(own);
    }
    Some(WithinBlocks { means: means.collect(), spread: pooled_spread(&cells.concat())?, inverse })
}

impl WithinBlocks {
    /// The variance of a difference between two treatments, in squares of the spread: at least 1 / n + 1 / m.
    pub fn variance(&self, one: usize, other: usize) -> f64 {
        let inverse = &self.inverse;
        inverse[one][one] + inverse[other][other] - 2.0 * inverse[one][other]
    }

    /// The covariance of the means of some treatments, in squares of the spread.
    pub fn covariance(&self, among: &[usize]) -> Vec<Vec<f64>> {
        let inverse = &self.inverse;
        among.iter().map(|&one| among.iter().map(|&other| inverse[one][other]).collect()).collect()
    }

    /// Two-sided simultaneous intervals of every pair among some treatments, whose means may be given otherwise.
    ///
    /// Tukey's studentised range with the error of each pair, which keeps its level where these errors are equal, as in balanced
    /// incomplete blocks, and is a little on the safe side elsewhere: Kramer (1957), Biometrics 13, 13-18. `None` where the spread
    /// carries no test.
    pub fn all_pairs(&self, among: &[(usize, f64)], spread: Spread, confidence: f64) -> Option<Vec<Pair>> {
        let range = StudentizedRange::of(among.len())?;
        if !spread.is_usable() {
            return None;
        }
        let critical = range.critical_value(1.0 - confidence, spread.df)?;
        pairs_of(among.len())
            .map(|(one, other)| {
                let ((a, first), (b, second)) = (among[one], among[other]);
                let difference = first - second;
                let error = spread.sd * (self.variance(a, b) / 2.0).sqrt();
                let (low, high) = (difference - critical * error, difference + critical * error);
                let p = range.tail((difference / error).abs(), spread.df)?;
                Some(Pair { one, other, difference, low, high, p })
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reaction times with four catalysts in four batches of which each takes three (Montgomery, Design and Analysis of Experiments,
    /// the worked example of the balanced incomplete block design; from memory, and worked out anew with `numpy`): residual mean
    /// square 0.65 on 5 degrees of freedom, adjusted means 71.375, 71.625, 72.000 and 75.000, and 2 k / (lambda a) = 6 / 8 as the
    /// variance of a difference.
    #[test]
    fn a_published_balanced_incomplete_block_design() {
        let rows: [OnWays<'_>; 4] = [
            (&[73.0, 74.0, 71.0], vec![&[1, 2, 4]]),
            (&[75.0, 67.0, 72.0], vec![&[2, 3, 4]]),
            (&[73.0, 75.0, 68.0], vec![&[1, 2, 3]]),
            (&[75.0, 72.0, 75.0], vec![&[1, 3, 4]]),
        ];
        let found = fit(&rows).unwrap();
        assert!((found.spread.sd.powi(2) - 0.65).abs() < 1e-10 && (found.spread.df - 5.0).abs() < 1e-12);
        for (mean, expected) in found.means.iter().zip([71.375, 71.625, 72.0, 75.0]) {
            assert!((mean.mean - expected).abs() < 1e-9 && mean.n == 3, "{mean:?}");
        }
        assert!(pairs_of(4).all(|(one, other)| (found.variance(one, other) - 0.75).abs() < 1e-10));
    }

    /// Four planks, unevenly; by `numpy` (`lstsq`, `pinv`) and `scipy` 1.17.1 (`studentized_range`).
    #[test]
    fn uneven_blocks_agree_with_a_general_solver() {
        let (bare, bay, fig) = (
            ([-6.0, -9.2, -8.6, -8.1], [1, 2, 2, 4]),
            ([-1.0, -1.6, -4.0, -3.4], [1, 1, 3, 3]),
            ([-3.1, -4.9, -2.2, -2.9], [2, 3, 4, 4]),
        );
        let found = fit(&[(&bare.0, vec![&bare.1]), (&bay.0, vec![&bay.1]), (&fig.0, vec![&fig.1])]).unwrap();
        assert!(
            (found.spread.sd - 0.586_988_548_061_676_9).abs() < 1e-10
                && (found.spread.df - 6.0).abs() < 1e-12
        );
        let means: Vec<f64> = found.means.iter().map(|mean| mean.mean).collect();
        for (mean, expected) in
            means.iter().zip([-8.186_666_666_666_664, -2.616_666_666_666_665, -2.946_666_666_666_663])
        {
            assert!((mean - expected).abs() < 1e-9, "{mean}");
        }
        let among: Vec<(usize, f64)> = means.iter().copied().enumerate().collect();
        let pairs = found.all_pairs(&among, found.spread, 0.95).unwrap();
        let expected = [
            (-7.278_618_484_420_832, -3.861_381_515_579_165, 0.000_142_521_068_376_089_13),
            (-6.635_081_150_639_525, -3.844_918_849_360_476, 0.000_063_364_154_195_206_83),
            (-1.378_618_484_420_835_6, 2.038_618_484_420_831, 0.829_066_569_735_607_1),
        ];
        for (pair, (low, high, p)) in pairs.iter().zip(expected) {
            assert!((pair.low - low).abs() < 1e-6 && (pair.high - high).abs() < 1e-6, "{pair:?}");
            assert!((pair.p - p).abs() < 1e-8, "{pair:?}");
        }
    }

    /// A difference of two means is that of the fit without interaction, with its variance; blocks that do not link both give none.
    #[test]
    fn a_weighted_sum_is_that_of_least_squares_where_it_can_be_estimated() {
        let (bare, bay, fig) = (
            ([-6.0, -9.2, -8.6, -8.1], [1, 2, 2, 4]),
            ([-1.0, -1.6, -4.0, -3.4], [1, 1, 3, 3]),
            ([-3.1, -4.9, -2.2, -2.9], [2, 3, 4, 4]),
        );
        let found = fit(&[(&bare.0, vec![&bare.1]), (&bay.0, vec![&bay.1]), (&fig.0, vec![&fig.1])]).unwrap();
        let values = [bare.0, bay.0, fig.0].concat();
        let cells: Vec<usize> = (0..12).map(|at| at / 4).collect();
        let planks = [bare.1, bay.1, fig.1].concat();
        for (one, other) in pairs_of(3) {
            let weight = |cell: usize| f64::from(i8::from(cell == one) - i8::from(cell == other));
            let (sum, variance) = weighted(&values, &cells, std::slice::from_ref(&planks), weight).unwrap();
            assert!((sum - (found.means[one].mean - found.means[other].mean)).abs() < 1e-9);
            assert!((variance - found.variance(one, other)).abs() < 1e-9, "{variance}");
        }
        let weight = |cell: usize| if cell == 0 { 1.0 } else { -1.0 };
        assert_eq!(weighted(&[1.0, 2.0, 4.0, 6.0], &[0, 0, 1, 1], &[vec![1, 2, 3, 4]], weight), None);
        // Without blocks it is the difference of the means, on 1 / 2 + 1 / 2.
        let plain = weighted(&[1.0, 2.0, 4.0, 6.0], &[0, 0, 1, 1], &[], weight).unwrap();
        assert!((plain.0 + 3.5).abs() < 1e-12 && (plain.1 - 1.0).abs() < 1e-12);
    }

    /// Sixty pairs one apart: half of that is left of either, on a degree of freedom for each pair.
    #[test]
    fn many_groups_of_one_kind_leave_what_lies_off_their_means() {
        let values: Vec<f64> = (0..120).map(|at| f64::from(at / 2 * 10 + at % 2)).collect();
        let kinds = [(0..120).map(|at| at / 2).collect(), vec![0; 120]];
        let (rest, df) = residuals(&values, &kinds).unwrap();
        assert!((df - 60.0).abs() < 1e-12);
        assert!(rest.iter().enumerate().all(|(at, rest)| (rest - (at % 2) as f64 + 0.5).abs() < 1e-9));
        assert!((left(&values, &kinds).unwrap().sd.powi(2) - 0.5).abs() < 1e-9);
    }

    #[test]
    fn blocks_that_link_nothing_give_none() {
        let apart: [OnWays<'_>; 2] =
            [(&[1.0, 2.0, 1.5], vec![&[1, 1, 2]]), (&[3.0, 4.0, 3.5], vec![&[3, 3, 4]])];
        assert_eq!(fit(&apart), None);
        assert_eq!(fit(&[(&[1.0, 2.0], vec![&[1, 2]]), (&[3.0], vec![&[1]])]), None);
        assert_eq!(fit(&[(&[1.0, 2.0], vec![&[1, 1]]), (&[3.0, 4.0], vec![&[1, 1]])]), None);
        assert_eq!(fit(&[(&[1.0, 2.0], vec![&[1, 2]])]), None);
    }
}

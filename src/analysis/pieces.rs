//! Sections of one piece: averaged where the piece is the unit, compared with each other where it carries everything.

use super::model::Piece;
use super::sample::{Counted, Sample};
use crate::stats::blocks::{self, OnBlocks, WithinBlocks};
use crate::stats::{Pair, Spread, summary};
use crate::study::{MeasureId, SectionId, Study, Treatment, Unit};
use std::collections::BTreeMap;

/// The piece of each section, where it matters to the comparison of a measure.
pub(super) fn pieces(study: &Study, measure: MeasureId) -> BTreeMap<SectionId, Piece> {
    let (grouping, kind): (_, fn(usize) -> Piece) = match study.unit(measure) {
        Unit::Section => return BTreeMap::new(),
        Unit::Piece(grouping) => (grouping, Piece::Unit),
        Unit::Within(grouping) | Unit::Linked(grouping) => (grouping, Piece::Block),
    };
    let numbered = grouping.pieces().into_iter().enumerate();
    numbered.flat_map(|(at, (_, sections))| sections.into_iter().map(move |id| (id, kind(at)))).collect()
}

/// The numbers of the sections of one treatment, each with its piece and readings, as a sample; of a piece that is a unit, `middle` of its sections.
pub(super) fn sample(
    treatment: Treatment,
    own: impl Iterator<Item = (Option<Piece>, Counted)>,
    middle: fn(&[f64]) -> Option<f64>,
) -> Sample {
    let mut sample = Sample { treatment, values: Vec::new(), readings: 0, carried: 0, blocks: Vec::new() };
    let mut whole: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for (piece, Counted { value, readings, carried }) in own {
        sample.readings += readings;
        sample.carried += usize::from(carried);
        match piece {
            Some(Piece::Unit(piece)) => whole.entry(piece).or_default().push(value),
            Some(Piece::Block(piece)) => {
                sample.values.push(value);
                sample.blocks.push(piece);
            }
            None => sample.values.push(value),
        }
    }
    sample.values.extend(whole.values().filter_map(|values| middle(values)));
    sample
}

/// The spread of a number beside its treatment and its piece, where every piece that was read carries every treatment
/// equally often; else `None`, since a mean then holds more of one piece than of another.
///
/// Randomised complete blocks without interaction: the residual of treatment and block means, on N - t - b + 1 degrees of
/// freedom (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapter 14).
pub(super) fn spread_within(samples: &[Sample]) -> Option<Spread> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    let mut blocks: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for sample in &read {
        if sample.blocks.len() != sample.values.len() {
            return None;
        }
        for (&block, &value) in sample.blocks.iter().zip(&sample.values) {
            blocks.entry(block).or_default().push(value);
        }
    }
    let even = |sample: &&Sample| {
        let each = sample.values.len() / blocks.len().max(1);
        each > 0 && blocks.keys().all(|key| sample.blocks.iter().filter(|own| *own == key).count() == each)
    };
    let all: Vec<f64> = read.iter().flat_map(|sample| sample.values.iter().copied()).collect();
    let df = (all.len() + 1).checked_sub(read.len() + blocks.len()).filter(|&df| df > 0)?;
    if blocks.len() < 2 || read.len() < 2 || !read.iter().all(even) {
        return None;
    }
    let grand = summary::mean(&all)?;
    let of_block: BTreeMap<usize, f64> =
        blocks.iter().filter_map(|(&block, values)| Some((block, summary::mean(values)?))).collect();
    let mut squares = Vec::with_capacity(all.len());
    for sample in &read {
        let own = summary::mean(&sample.values)?;
        for (block, value) in sample.blocks.iter().zip(&sample.values) {
            squares.push((value - own - of_block.get(block)? + grand).powi(2));
        }
    }
    // Sorted, so that the order of rows changes no byte.
    squares.sort_unstable_by(f64::total_cmp);
    Some(Spread { sd: (squares.iter().sum::<f64>() / df as f64).sqrt(), df: df as f64 })
}

/// Treatments and pieces by least squares, where every section that was read lies on a piece and these link all treatments; the
/// treatments stand in the order of the samples that were read.
pub(super) fn linked(samples: &[Sample]) -> Option<WithinBlocks> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    let on_blocks: Vec<OnBlocks<'_>> =
        read.iter().map(|sample| (sample.values.as_slice(), sample.blocks.as_slice())).collect();
    if read.iter().any(|sample| sample.blocks.len() != sample.values.len()) {
        return None;
    }
    blocks::fit(&on_blocks)
}

/// The samples moved so that each has the mean that it has over all pieces alike, without what its own pieces add.
pub(super) fn levelled(samples: Vec<Sample>, found: &WithinBlocks) -> Vec<Sample> {
    let mut means = found.means.iter();
    let moved = |mut sample: Sample| {
        if let Some(own) = summary::mean(&sample.values)
            && let Some(over_all) = means.next()
        {
            sample.values.iter_mut().for_each(|value| *value += over_all.mean - own);
        }
        sample
    };
    samples.into_iter().map(moved).collect()
}

/// Every pair among some treatments, by their places in `among`, with the mean that each is given.
pub(super) fn linked_pairs(
    samples: &[Sample],
    among: &[(Treatment, f64)],
    spread: Spread,
    confidence: f64,
) -> Option<Vec<Pair>> {
    let found = linked(samples)?;
    let read: Vec<Treatment> =
        samples.iter().filter(|sample| !sample.values.is_empty()).map(|sample| sample.treatment).collect();
    let place =
        |&(treatment, mean): &(Treatment, f64)| Some((read.iter().position(|one| *one == treatment)?, mean));
    let among: Option<Vec<(usize, f64)>> = among.iter().map(place).collect();
    found.all_pairs(&among?, spread, confidence)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::ProductId;

    fn sample(at: usize, values: &[f64], blocks: &[usize]) -> Sample {
        let treatment = if at == 0 { Treatment::Bare } else { Treatment::Product(ProductId::new(at - 1)) };
        Sample { treatment, values: values.to_vec(), readings: 0, carried: 0, blocks: blocks.to_vec() }
    }

    /// Seeds of soybean that failed, of 100 planted, under five treatments in five blocks: sums of squares 83.84 between
    /// treatments, 49.84 between blocks, 86.56 left on 16 degrees of freedom, a mean square of 5.41 (Snedecor and Cochran
    /// 1989, Statistical Methods, table 14.2.1; from memory, and worked out anew from the counts).
    #[test]
    fn the_scatter_within_blocks_is_that_of_a_published_table() {
        let blocks = [0, 1, 2, 3, 4];
        let rows = [
            [8.0, 10.0, 12.0, 13.0, 11.0],
            [2.0, 6.0, 7.0, 11.0, 5.0],
            [4.0, 10.0, 9.0, 8.0, 10.0],
            [3.0, 5.0, 9.0, 10.0, 6.0],
            [9.0, 7.0, 5.0, 5.0, 3.0],
        ];
        let samples: Vec<Sample> =
            rows.iter().enumerate().map(|(at, row)| sample(at, row, &blocks)).collect();
        let found = spread_within(&samples).unwrap();
        assert!((found.df - 16.0).abs() < 1e-12);
        assert!((found.sd - (86.56_f64 / 16.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_block_that_lacks_a_section_gives_no_such_spread() {
        let whole = sample(0, &[1.0, 2.0, 3.0], &[0, 1, 2]);
        assert!(spread_within(&[whole, sample(1, &[2.0, 3.0, 5.0], &[0, 1, 2])]).is_some());
        let whole = sample(0, &[1.0, 2.0, 3.0], &[0, 1, 2]);
        assert_eq!(spread_within(&[whole, sample(1, &[2.0, 3.0], &[0, 1])]), None);
        let alone = sample(0, &[1.0, 2.0], &[0, 0]);
        assert_eq!(spread_within(&[alone, sample(1, &[1.0, 2.0], &[0, 0])]), None);
    }
}

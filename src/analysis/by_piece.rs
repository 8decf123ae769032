//! Treatment by piece: whether what is left within pieces is more than sections treated alike on one piece scatter.

use super::groups::ROUNDING;
use super::model::{ByPiece, Interaction};
use super::sample::Sample;
use crate::stats::{GroupMean, Spread, anova, blocks, distributions, summary};
use crate::study::Treatment;
use std::collections::BTreeSet;

/// The F test of treatments by pieces, against the scatter of sections that carry the same on the same piece; `None` where no piece
/// carries anything twice, where that scatter is but the rounding of numbers as large as `level`, or nothing is left to test.
///
/// Two factors with replication, unevenly many: the sum of squares that a model without interaction leaves, less that within cells
/// (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapters 16 and 20).
pub(super) fn by_piece(samples: &[Sample], level: f64) -> Option<ByPiece> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    if read.iter().any(|sample| sample.blocks.len() != sample.values.len()) {
        return None;
    }
    let pieces: BTreeSet<usize> = read.iter().flat_map(|sample| sample.blocks.iter().copied()).collect();
    let pieces: Vec<usize> = pieces.into_iter().collect();
    let alike = within_cells(&read, &pieces).filter(|alike| alike.sd > ROUNDING * level)?;
    let products = |sample: &&Sample| matches!(sample.treatment, Treatment::Product(_));
    let only: Vec<&Sample> = read.iter().copied().filter(products).collect();
    let mean = |sample: &Sample, piece: usize| {
        let own = cell(sample, piece);
        Some(GroupMean { mean: summary::mean(&own)?, n: own.len() })
    };
    let row = |sample: &&Sample| {
        (sample.treatment, pieces.iter().map(|&piece| mean(sample, piece)).collect::<Vec<_>>())
    };
    Some(ByPiece {
        alike,
        all: interaction(&read, &pieces, alike)?,
        products: interaction(&only, &pieces, alike),
        rows: read.iter().map(row).collect(),
        pieces,
    })
}

fn cell(sample: &Sample, piece: usize) -> Vec<f64> {
    let own = sample.values.iter().zip(&sample.blocks).filter(|&(_, &block)| block == piece);
    own.map(|(&value, _)| value).collect()
}

/// The scatter of sections that carry the same on the same piece.
fn within_cells(read: &[&Sample], pieces: &[usize]) -> Option<Spread> {
    let cells: Vec<Vec<f64>> =
        read.iter().flat_map(|sample| pieces.iter().map(|&piece| cell(sample, piece))).collect();
    anova::pooled_spread(&cells)
}

fn interaction(read: &[&Sample], pieces: &[usize], alike: Spread) -> Option<Interaction> {
    let on_blocks: Vec<blocks::OnBlocks<'_>> =
        read.iter().map(|sample| (sample.values.as_slice(), sample.blocks.as_slice())).collect();
    let without = blocks::fit(&on_blocks)?.spread;
    let squares = |spread: Spread| spread.sd * spread.sd * spread.df;
    let own = within_cells(read, pieces);
    let (within, within_df) = own.map_or((0.0, 0.0), |own| (squares(own), own.df));
    let df = without.df - within_df;
    if df < 0.5 {
        return None;
    }
    let f = ((squares(without) - within) / df).max(0.0) / (alike.sd * alike.sd);
    Some(Interaction { f, df, p: distributions::f_tail(f, df, alike.df)? })
}

//! One number of every unit with the same treatment: what all comparisons are made from.

use crate::study::Treatment;

/// One number of every section with the same treatment, at one round.
pub(super) struct Sample {
    pub(super) treatment: Treatment,
    /// One number for each unit: a section, or a piece.
    pub(super) values: Vec<f64>,
    /// Readings behind them, at the round that each number is of.
    pub(super) readings: u32,
    /// The piece of each number, where pieces carry every treatment; else empty.
    pub(super) blocks: Vec<usize>,
}

//! What stands beside the comparisons and decides nothing: adjustment for the baseline, and a test by exchange.

use super::section::Interval;
use super::table::{Strength, Word};
use crate::stats::Spread;
use crate::stats::permutation::Exchanged;
use crate::study::Treatment;

/// Differences to bare in the change, at the same baseline: analysis of covariance with the section as the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct AdjustedTable {
    /// Change for each unit of the baseline, within treatments.
    pub slope: f64,
    /// Its 95 % interval.
    pub slope_interval: Option<Interval>,
    /// Scatter about that slope; one degree of freedom fewer than without it.
    pub spread: Spread,
    /// The baseline that all means are taken to.
    pub at: f64,
    /// Sections behind the table, bare ones among them.
    pub sections: usize,
    /// Bare sections.
    pub bare: usize,
    /// Mean baseline of the bare sections.
    pub bare_baseline: f64,
    /// One row for each other treatment, in the order of the groups.
    pub rows: Vec<AdjustedRow>,
}

/// One treatment against bare at the same baseline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AdjustedRow {
    /// The treatment.
    pub treatment: Treatment,
    /// Sections behind it.
    pub n: usize,
    /// Their mean baseline.
    pub baseline: f64,
    /// Difference to bare without adjustment, over the same sections.
    pub plain: f64,
    /// Difference to bare at the same baseline.
    pub difference: f64,
    /// Its simultaneous 95 % interval.
    pub interval: Interval,
    /// Two-sided p value, adjusted for all rows.
    pub p: f64,
    /// The word of that interval.
    pub word: Word,
}

/// Why a comparison is not adjusted though the study asks for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NotAdjusted {
    /// No round named baseline reads the measure.
    NoBaseline,
    /// The round has no table against bare.
    NoTable,
    /// Fewer than 3 degrees of freedom would be left; how many.
    FewDegrees(f64),
    /// Treatments began so much farther apart than sections treated alike that the slope would be all that is compared.
    TooFarApart,
    /// Sections treated alike began alike, or show no scatter about the slope.
    NoScatter,
    /// Sections of one piece are not independent of each other.
    Pieces,
}

/// A test by exchange of the treatments among the sections of one round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ExchangeLine {
    /// What it gave.
    pub found: Exchanged,
    /// Whether every product lies on one section.
    pub singles: bool,
    /// Sections that took part.
    pub sections: usize,
    /// How many of them were stopped before, and take part with the value of the stop.
    pub stopped: usize,
    /// Readings behind them.
    pub readings: u32,
    /// Pairs of sections side by side that carry the same on the real map; no counted arrangement has more. `None`
    /// where nothing lies side by side, as on a rack.
    pub side_by_side: Option<usize>,
    /// The seed, where arrangements were drawn.
    pub seed: u64,
}

/// Why no test by exchange is offered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoExchange {
    /// There are so few arrangements that no p below 5 % could come out; the smallest one.
    TooCoarse(f64),
    /// The spread carries no such statement.
    Strength(Strength),
    /// Sections of one piece cannot be exchanged one by one.
    Pieces,
}

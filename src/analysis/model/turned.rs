//! Rounds at which products stood in another order than at the one that decides.

use super::table::PairRow;
use crate::study::RoundId;

/// Pairs of products that are told apart at another round against the order of the deciding one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Turned {
    /// Rounds at which all pairs were tested: every other one that was read and judged.
    pub rounds: Vec<RoundId>,
    /// Pairs that were tested at them.
    pub pairs: usize,
    /// Those against the order, round by round.
    pub rows: Vec<TurnedRow>,
}

/// Such a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurnedRow {
    /// The round.
    pub round: RoundId,
    /// The pair there, the product that was ahead first.
    pub pair: PairRow,
    /// Its p value, adjusted for all pairs of all these rounds.
    pub p: f64,
}

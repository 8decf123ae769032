//! Whether products do otherwise on one piece, or at one site, than on another.

use crate::stats::{GroupMean, Spread};
use crate::study::Treatment;

/// Treatments by piece, where pieces carry treatments more than once.
#[derive(Debug, Clone, PartialEq)]
pub struct ByPiece {
    /// Scatter of sections that carry the same on the same piece.
    pub alike: Spread,
    /// Of all treatments.
    pub all: Interaction,
    /// Of the products alone; `None` where fewer than two can be held against each other.
    pub products: Option<Interaction>,
    /// The pieces that were read, by their number among those of the study.
    pub pieces: Vec<usize>,
    /// The means of every treatment that was read, on each of these pieces; `None` where it lies on none of their sections.
    pub rows: Vec<(Treatment, Vec<Option<GroupMean>>)>,
}

/// The F test of treatment by piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interaction {
    /// Mean square of the interaction over that of sections treated alike.
    pub f: f64,
    /// Degrees of freedom of the interaction.
    pub df: f64,
    /// P value.
    pub p: f64,
}

/// Below this an interaction stands out.
const LEVEL: f64 = 0.05;

impl Interaction {
    /// Whether it is more than sections treated alike can show.
    pub fn stands_out(self) -> bool {
        self.p < LEVEL
    }
}

impl ByPiece {
    /// Whether what treatments do otherwise on one piece than on another is more than sections treated alike can show.
    pub fn stands_out(&self) -> bool {
        self.all.stands_out()
    }

    /// Whether another product has the foremost mean on one piece than on another, and products by piece stand out as well.
    pub fn order_differs(&self, higher_is_better: bool) -> bool {
        let products =
            || self.rows.iter().filter(|(treatment, _)| matches!(treatment, Treatment::Product(_)));
        let sign = if higher_is_better { 1.0 } else { -1.0 };
        let first = |at: usize| {
            let read =
                products().filter_map(|(treatment, means)| Some((*treatment, means.get(at)?.as_ref()?.mean)));
            read.max_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1))).map(|(treatment, _)| treatment)
        };
        let mut first = (0..self.pieces.len()).filter_map(first);
        let one = first.next();
        self.stands_out()
            && self.products.is_some_and(Interaction::stands_out)
            && first.any(|other| Some(other) != one)
    }
}

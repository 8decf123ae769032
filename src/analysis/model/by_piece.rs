//! Whether products do otherwise on one piece, or at one site, than on another.

use super::section::Interval;
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
    /// On each of these pieces the mean over the products there less that of bare; `None` where either is lacking.
    pub less_bare: Vec<Option<LessBare>>,
    /// Pairs of products that are told apart on one of these pieces; empty where nothing stands out.
    pub orders: Vec<PieceOrder>,
    /// Every pair of products on each piece, by which these are told; empty where nothing stands out.
    pub pairs: Vec<PiecePair>,
    /// Every product against the bare sections of its piece; empty where nothing stands out.
    pub against_bare: Vec<PieceBare>,
}

/// The products of a piece less bare there, in the mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LessBare {
    /// The difference, in the unit of the measure; what blocks add is taken out of it where it has an interval.
    pub difference: f64,
    /// Interval that holds together with those of all pieces, on the scatter of sections that carry the same on the same piece; `None`
    /// where blocks do not link what lies there, so that the difference holds what they add.
    pub interval: Option<Interval>,
}

/// Two products that are told apart on one piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PieceOrder {
    /// Place of the piece in [`ByPiece::pieces`].
    pub place: usize,
    /// The product with the higher mean.
    pub above: Treatment,
    /// The one with the lower mean.
    pub below: Treatment,
}

/// A product against bare on one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceBare {
    /// Place of the piece in [`ByPiece::pieces`].
    pub place: usize,
    /// The product.
    pub treatment: Treatment,
    /// Its mean less that of bare there, in the unit of the measure.
    pub difference: f64,
    /// Whether it is told apart from bare there.
    pub told: bool,
    /// Interval of the difference, which holds together with those of all rows on all pieces.
    pub interval: Interval,
    /// P value, adjusted for them.
    pub p: f64,
}

/// Two products on one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PiecePair {
    /// Place of the piece in [`ByPiece::pieces`].
    pub place: usize,
    /// The first, in order of the study.
    pub one: Treatment,
    /// The second.
    pub other: Treatment,
    /// Mean of the first less that of the second, in the unit of the measure.
    pub difference: f64,
    /// Interval of the difference, which holds together with those of all pairs on all pieces.
    pub interval: Interval,
    /// P value, adjusted for them.
    pub p: f64,
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
    /// Whether what treatments, or products alone, do otherwise on one piece than on another is more than sections treated alike can show.
    pub fn stands_out(&self) -> bool {
        self.all.stands_out() || self.products_differ()
    }

    /// Whether that holds of products among themselves.
    pub fn products_differ(&self) -> bool {
        self.products.is_some_and(Interaction::stands_out)
    }

    /// Whether no product may come first on all pieces: each is told apart from one that is ahead of it on some piece.
    pub fn order_differs(&self, higher_is_better: bool) -> bool {
        let behind = |order: &PieceOrder| if higher_is_better { order.below } else { order.above };
        let products = self.rows.iter().map(|(treatment, _)| *treatment);
        let mut products = products.filter(|treatment| matches!(treatment, Treatment::Product(_)));
        self.products_differ() && products.all(|one| self.orders.iter().any(|order| behind(order) == one))
    }
}

//! One number of every unit with the same treatment: what all comparisons are made from.

use crate::study::Treatment;

/// One number of every section with the same treatment, at one round.
#[derive(Clone)]
pub(super) struct Sample {
    pub(super) treatment: Treatment,
    /// One number for each unit: a section, or a piece.
    pub(super) values: Vec<f64>,
    /// Readings behind them, at the round that each number is of.
    pub(super) readings: u32,
    /// Sections behind them that were stopped before the round and stand with the number of the stop.
    pub(super) carried: usize,
    /// The piece of each number, where pieces carry every treatment; else empty.
    pub(super) blocks: Vec<usize>,
    /// The site of each of these numbers, where there are several; else empty.
    pub(super) sites: Vec<usize>,
    /// Whether the design has differences as averages over the sites.
    pub(super) averaged: bool,
}

impl Sample {
    pub(super) fn empty(treatment: Treatment) -> Self {
        Self {
            treatment,
            values: Vec::new(),
            readings: 0,
            carried: 0,
            blocks: Vec::new(),
            sites: Vec::new(),
            averaged: false,
        }
    }

    /// Whether all its numbers are of the round itself.
    pub(super) fn is_whole(&self) -> bool {
        self.carried == 0
    }

    /// By what its treatment may do otherwise: the site, or the piece where there is but one site.
    pub(super) fn places(&self) -> &[usize] {
        if self.sites.is_empty() { &self.blocks } else { &self.sites }
    }
}

/// The number with which a section counts at a round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Counted {
    pub(super) value: f64,
    /// Readings behind it.
    pub(super) readings: u32,
    /// Whether it is of an earlier round, at which the section was stopped.
    pub(super) carried: bool,
}

impl Counted {
    /// A number of the round itself.
    pub(super) fn here(value: f64, readings: u32) -> Self {
        Self { value, readings, carried: false }
    }
}

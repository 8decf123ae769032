//! Sections that the drawing leaves to chance: how they are to be dealt out, and when that was done.

use super::{MeasureId, RoundId, Study, Treatment};
use crate::text::Span;
use jiff::civil::Date;

/// What the map says of dealing out.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Dealing {
    /// Blocks of sections that were alike before the coats.
    pub blocks: Option<Blocks>,
    /// When `arrange` dealt the sections out.
    pub placed: Option<Placed>,
}

/// `blocks by chalk at baseline, 4 of 9`: the sections in order of a reading, cut into blocks of equal size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Blocks {
    /// What they are ordered by.
    pub measure: MeasureId,
    /// At which round.
    pub round: RoundId,
    /// How many blocks.
    pub number: usize,
    /// Sections in each.
    pub each: usize,
    /// Place of the line.
    pub span: Span,
}

/// `placed 2026-04-27, seed 40617`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Placed {
    /// The day.
    pub date: Date,
    /// The seed of the chance that dealt.
    pub seed: u64,
    /// Place of the line.
    pub span: Span,
}

impl Study {
    /// Whether the blocks of the map, if it states any, hold as many sections as it leaves to chance. Once all are dealt out
    /// nobody knows any more which were open.
    pub fn blocks_fit(&self) -> bool {
        let open = self.sections_of(Treatment::Open).count();
        self.dealing.blocks.is_none_or(|blocks| open == 0 || open == blocks.number * blocks.each)
    }
}

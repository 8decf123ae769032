//! The lines of a step: the cautions that it prints, and what is written into.

use crate::catalog::Caution;
use crate::speech::said;

/// Lines to write on for a step of the cycle; where there are more cycles, the sheets of the rounds have room.
pub(super) const MOST_LINES: u32 = 12;

/// More sections than this have no box each, since their list would be longer than the work.
pub(super) const BOXED: usize = 60;

/// More places than this have no line each on the checklist.
pub(super) const LINES: u32 = 15;

/// Lines for readings whose places the study does not name.
pub(in crate::report) const UNNAMED: u32 = 4;

/// The words of cautions.
pub(super) fn texts(cautions: &[&Caution]) -> Vec<String> {
    cautions.iter().map(|caution| said(caution.text).to_owned()).collect()
}

/// Heads of the places that are written into.
pub(super) fn heads(words: &[&str]) -> Vec<String> {
    words.iter().map(|&word| word.to_owned()).collect()
}

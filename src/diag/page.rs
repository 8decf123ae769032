//! The page behind a code: what it is, why it matters, how to mend it, and two examples that are run as tests.

use super::Severity;

/// What `explain` prints for one code.
///
/// The examples are pieces of a study: blocks that they do not write are taken from the frame, a
/// small sound study. A line `--- readings.csv` begins a readings file, a line `--- date 2026-05-01`
/// sets the day on which the study is looked at.
#[derive(Debug, Clone, Copy)]
pub struct Page {
    /// The code.
    pub code: &'static str,
    /// The severity that it usually has.
    pub severity: Severity,
    /// What the finding says, one or two sentences.
    pub what: &'static str,
    /// Why it matters to the comparison or to people.
    pub why: &'static str,
    /// How to mend it.
    pub mend: &'static str,
    /// Gives this finding and no other error.
    pub bad: &'static str,
    /// Gives no finding of this code.
    pub good: &'static str,
    /// The published source of the rule, or "common practice, no source".
    pub source: &'static str,
}

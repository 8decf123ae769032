//! What every page is made from.

use crate::analysis::Analysis;
use crate::catalog::Catalog;
use crate::diag::{Finding, Waived};
use crate::readings::Readings;
use crate::study::Study;
use crate::text::Sources;
use jiff::civil::Date;

/// An input file as the report names it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Input {
    /// Its name as the user typed it.
    pub name: String,
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub sha256: String,
}

/// Everything that a page may be made from.
#[derive(Debug, Clone, Copy)]
pub struct Material<'a> {
    /// The study.
    pub study: &'a Study,
    /// Reference data.
    pub catalog: &'a Catalog,
    /// Readings.
    pub readings: &'a Readings,
    /// The numbers.
    pub analysis: &'a Analysis,
    /// Findings in file order.
    pub findings: &'a [Finding],
    /// Findings that the study waives, with its reasons.
    pub waived: &'a [Waived],
    /// The texts that findings point into.
    pub sources: &'a Sources,
    /// Every input with its digest, the study first.
    pub inputs: &'a [Input],
    /// The date of every page; `None` before the first reading.
    pub date: Option<Date>,
    /// Version of the tool.
    pub version: &'a str,
}

impl Material<'_> {
    /// What every page says of its date: `as of 2026-04-13`, or why it has none.
    pub(super) fn as_of(&self) -> String {
        match self.date {
            Some(date) => format!("as of {date}"),
            None if self.readings.is_empty() => "before the first reading".to_owned(),
            None => "with no day on any reading".to_owned(),
        }
    }
}

//! Views: what each page says, in which order and in which words, with rounded text beside the raw value.

mod answer;
mod appendix;
mod blocks;
mod charts;
mod checklist;
mod comparison;
mod index;
mod map;
mod method;
mod names;
mod numbers;
mod paper;
mod record;
mod safety;
mod table;

pub use answer::{AnswerView, answer};
pub use blocks::{Block, Column, Drawing, Part, Picture, Table};
pub use charts::{ChangeChart, IntervalChart, IntervalRow, Mark, Series, SpentChart, SpentRow};
pub use checklist::{ChecklistView, Group, StepView, Thing, checklist};
pub use index::{IndexView, index};
pub use map::{AreaView, Kind, MapView, SectionView, Shape, map, round_length};
pub use numbers::{Figure, fixed as fixed_number};
pub use paper::{ReportView, report};
pub use safety::{Card, Coded, Entry, Meeting};
pub use table::{ReadingRow, reading_rows};

use crate::analysis::Analysis;
use crate::catalog::Catalog;
use crate::diag::Finding;
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
    /// The texts that findings point into.
    pub sources: &'a Sources,
    /// Every input with its digest, the study first.
    pub inputs: &'a [Input],
    /// The date of every page.
    pub date: Date,
    /// Version of the tool.
    pub version: &'a str,
}

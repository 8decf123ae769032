//! Readings files: every row is placed or reported, and the order of rows changes nothing.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::format_push_string,
    reason = "a test may stop at what it did not expect"
)]

mod apart;
mod bad_input;
mod cells;
mod climate;
mod faults;
mod forms;
mod habits;
mod left_out;
mod outlying;
mod pages;
mod placed;
mod study;

use tapeline::diag::{Finding, Severity};
use tapeline::readings::{Cell, Input, Readings, read};
use tapeline::study::{MeasureId, RoundId, SectionId, Study};
use tapeline::text::{FileId, SourceFile};

/// Reads one file of a study.
fn read_bytes(study: &Study, bytes: &[u8]) -> (Readings, Vec<Finding>) {
    read(study, &[Some(Input { file: FileId(1), bytes })])
}

/// Reads one file of the study by hand.
fn read_text(text: &str) -> (Readings, Vec<Finding>) {
    read_bytes(&study::study(), text.as_bytes())
}

/// Reads a file in which nothing is wrong.
fn read_sound(text: &str) -> Readings {
    let (readings, findings) = read_text(text);
    assert!(findings.is_empty(), "{findings:#?}");
    readings
}

/// The cell of a section, round and measure by their places in the study.
fn cell(readings: &Readings, section: usize, round: usize, measure: usize) -> Cell {
    let ids = (SectionId::new(section), RoundId::new(round), MeasureId::new(measure));
    *readings.cell(ids.0, ids.1, ids.2).expect("a cell")
}

/// Code, severity, line and the text under the caret of each finding, in order.
fn told(text: &str, findings: &[Finding]) -> Vec<String> {
    let file = SourceFile::new("readings.csv", text);
    let one = |finding: &Finding| {
        let word = match finding.severity {
            Severity::Error => "",
            other => other.word(),
        };
        let (line, _) = file.line_column(finding.place.span.start);
        format!("{line} {} {word}[{}]", finding.code, file.slice(finding.place.span))
    };
    findings.iter().map(one).collect()
}

//! Findings for machines, in the order given and never cut: one form, for the terminal and for `findings.json`.

use super::{Finding, Place, Severity};
use crate::text::Sources;
use jiff::civil::Date;
use serde::Serialize;

#[derive(Serialize)]
struct Document<'a> {
    tool: &'static str,
    version: &'a str,
    date: Option<String>,
    findings: Vec<Entry<'a>>,
}

#[derive(Serialize)]
struct Entry<'a> {
    code: &'static str,
    severity: Severity,
    #[serde(flatten)]
    at: Stretch<'a>,
    message: &'a str,
    label: &'a str,
    help: &'a [String],
    related: Vec<Related<'a>>,
    // The command that prints the page of this code.
    page: String,
}

#[derive(Serialize)]
struct Related<'a> {
    #[serde(flatten)]
    at: Stretch<'a>,
    label: &'a str,
}

/// Lines and columns from 1; columns count characters; the end is one past the last.
#[derive(Serialize)]
struct Stretch<'a> {
    file: &'a str,
    line: u32,
    column: u32,
    end_line: u32,
    end_column: u32,
}

/// The findings of a study as it was looked at on a day, as one JSON document; the day is null where none is known.
///
/// # Errors
/// Whatever the JSON writer refuses, which plain data never makes it do.
pub fn json(
    findings: &[Finding],
    sources: &Sources,
    version: &str,
    date: Option<Date>,
) -> Result<String, serde_json::Error> {
    let document = Document {
        tool: "tapeline",
        version,
        date: date.map(|date| date.to_string()),
        findings: findings.iter().map(|finding| entry(sources, finding)).collect(),
    };
    let mut text = serde_json::to_string_pretty(&document)?;
    text.push('\n');
    Ok(text)
}

fn entry<'a>(sources: &'a Sources, finding: &'a Finding) -> Entry<'a> {
    Entry {
        code: finding.code,
        severity: finding.severity,
        at: stretch(sources, finding.place),
        message: &finding.message,
        label: &finding.label,
        help: &finding.help,
        related: finding
            .related
            .iter()
            .map(|(place, label)| Related { at: stretch(sources, *place), label })
            .collect(),
        page: format!("tapeline explain {}", finding.code),
    }
}

fn stretch(sources: &Sources, place: Place) -> Stretch<'_> {
    let Some(file) = sources.get(place.file) else {
        return Stretch { file: "", line: 1, column: 1, end_line: 1, end_column: 1 };
    };
    let (line, column) = file.line_column(place.span.start);
    let (end_line, end_column) = file.line_column(place.span.end.max(place.span.start));
    Stretch { file: file.base_name(), line, column, end_line, end_column }
}

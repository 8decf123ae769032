//! Findings for machines: the same findings as JSON, never cut.

use super::{Finding, Place, Severity};
use crate::text::Sources;
use serde::Serialize;

#[derive(Serialize)]
struct Spot<'a> {
    file: &'a str,
    /// Line and column from 1; columns count characters.
    line: u32,
    column: u32,
    end_line: u32,
    end_column: u32,
    /// The user's own text under the caret.
    text: &'a str,
}

#[derive(Serialize)]
struct Related<'a> {
    label: &'a str,
    place: Spot<'a>,
}

#[derive(Serialize)]
struct Entry<'a> {
    code: &'a str,
    severity: Severity,
    message: &'a str,
    place: Spot<'a>,
    #[serde(skip_serializing_if = "str::is_empty")]
    label: &'a str,
    help: &'a [String],
    related: Vec<Related<'a>>,
    about: &'a [String],
}

/// The findings as a JSON array, one object each, in the order given.
pub fn json(findings: &[Finding], sources: &Sources) -> String {
    let entries: Vec<Entry<'_>> = findings.iter().map(|finding| entry(finding, sources)).collect();
    // Plain data cannot fail to be written; an empty array would then say so.
    let mut text = serde_json::to_string_pretty(&entries).unwrap_or_else(|_| "[]".to_owned());
    text.push('\n');
    text
}

fn entry<'a>(finding: &'a Finding, sources: &'a Sources) -> Entry<'a> {
    let related =
        finding.related.iter().map(|(place, label)| Related { label, place: spot(*place, sources) });
    Entry {
        code: finding.code,
        severity: finding.severity,
        message: &finding.message,
        place: spot(finding.place, sources),
        label: &finding.label,
        help: &finding.help,
        related: related.collect(),
        about: &finding.about,
    }
}

fn spot(place: Place, sources: &Sources) -> Spot<'_> {
    let Some(file) = sources.get(place.file) else {
        return Spot { file: "", line: 1, column: 1, end_line: 1, end_column: 1, text: "" };
    };
    let (line, column) = file.line_column(place.span.start);
    let (end_line, end_column) = file.line_column(place.span.end);
    let text = file.slice(place.span);
    let cut = text.char_indices().nth(200).map_or(text.len(), |(at, _)| at);
    Spot { file: &file.name, line, column, end_line, end_column, text: &text[..cut] }
}

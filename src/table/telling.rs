//! What is said of headings and fields: a text cut to what a message has room for, and headings that nobody knows.

use crate::diag::{Finding, Place, list, nearest};
use crate::text::{FileId, Span};

/// A text as a message shows it: one line, 40 characters at most.
pub fn shown(text: &str) -> String {
    let mut shown: String =
        text.chars().take(40).map(|c| if c.is_control() { '\u{b7}' } else { c }).collect();
    if text.chars().nth(40).is_some() {
        shown.push('\u{2026}');
    }
    shown
}

/// A heading that the tool does not know.
pub struct Unknown<'a> {
    /// As it stands in the file.
    pub text: &'a str,
    /// Its place.
    pub place: Place,
}

/// One finding for all headings that the tool does not know, of those that it knows; a waiver names what it is `about`, and
/// the study says under `block` what a heading `is`.
pub fn extra(
    unknown: &[Unknown<'_>],
    (about, block): (&str, &str),
    words: &[&'static str],
    is: impl Fn(&str) -> Option<&'static str>,
) -> Option<Finding> {
    let first = unknown.first()?;
    let names: Vec<String> = unknown.iter().take(6).map(|one| format!("`{}`", shown(one.text))).collect();
    let more = unknown.len().saturating_sub(names.len());
    let names = if more == 0 { list(&names, "and") } else { format!("{} and {more} more", names.join(", ")) };
    let are = if unknown.len() == 1 { "the column {} is" } else { "the columns {} are" };
    let finding =
        Finding::advice("extra-columns", first.place, format!("{} not used", are.replace("{}", &names)));
    let meant = unknown.iter().find_map(|one| Some((one, nearest(one.text, words.iter().copied())?)));
    let finding = if let Some((one, word)) = meant {
        finding.help(format!("if `{}` is meant to be `{word}`, write that", shown(one.text)))
    } else {
        let meant = unknown.iter().find_map(|one| Some((one, is(one.text)?)));
        let as_said = meant.map_or_else(
            || format!("as `column \"{}\" is {}`", shown(first.text), words.first().unwrap_or(&"note")),
            |(one, word)| format!("as `column \"{}\" is {word}`", shown(one.text)),
        );
        finding.help(format!(
                "where it is a note, call it `note`; else nothing of it counts until a line under `{block}` says what it is, {as_said}"
            ))
    };
    Some(finding.about(about))
}

/// A file with a header and nothing below it; a waiver names what it is `about`.
pub fn without_rows(file: FileId, about: &str) -> Finding {
    let place = Place { file, span: Span::default() };
    Finding::advice("readings-empty", place, "this file has a header and no rows")
        .help("put the rows of the logger or the station below it")
        .about(about)
}

/// A file without a header; a waiver names what it is `about`.
pub fn empty(file: FileId, about: &str, header: &str) -> Finding {
    let place = Place { file, span: Span::default() };
    Finding::advice("readings-empty", place, "this file is empty")
        .help(format!("begin it with a header, as `{header}`"))
        .about(about)
}

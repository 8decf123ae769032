//! What every page is made from.

use crate::analysis::Analysis;
use crate::catalog::Catalog;
use crate::diag::{Finding, Waived};
use crate::photos::Photos;
use crate::readings::{Reading, Readings, Value};
use crate::speech::{self, say};
use crate::study::Study;
use crate::text::{FileId, Sources};
use crate::units::decimal;
use jiff::civil::Date;
use std::borrow::Cow;

/// An input file as the report names it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Input {
    /// Its name as the user typed it.
    pub name: String,
    /// SHA-256 of its bytes, 64 hexadecimal digits.
    pub sha256: String,
}

/// A block of a page that the study changes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageBlock {
    /// The page, as `report.md`.
    pub page: &'static str,
    /// Name of the block.
    pub name: &'static str,
    /// Name of its file, as `report-end.md`.
    pub file: String,
    /// Its text.
    pub source: FileId,
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
    /// Photos.
    pub photos: &'a Photos,
    /// The numbers.
    pub analysis: &'a Analysis,
    /// Findings in file order.
    pub findings: &'a [Finding],
    /// Findings that the study waives, with its reasons.
    pub waived: &'a [Waived],
    /// Blocks of pages that the study changes.
    pub blocks: &'a [PageBlock],
    /// The texts that findings point into.
    pub sources: &'a Sources,
    /// Every input with its digest, the study first.
    pub inputs: &'a [Input],
    /// The date of every page; `None` before the first reading.
    pub date: Option<Date>,
    /// Version of the tool.
    pub version: &'a str,
}

impl<'a> Material<'a> {
    /// What every page says of its date: `as of 2026-04-13`, or why it has none.
    pub(super) fn as_of(&self) -> String {
        match self.date {
            Some(date) => say!("as of {date}", date = speech::day(date)),
            None if self.readings.is_empty() => say!("before the first reading").to_owned(),
            None => say!("with no day on any reading").to_owned(),
        }
    }

    /// A reading with as many decimals as its file gives, since `84.0` says more than `84`; empty where none was taken.
    ///
    /// A value that the file gives in another unit is printed as short as it is.
    pub(super) fn as_typed(&self, reading: &Reading<'_>) -> Cow<'a, str> {
        let typed = self.sources.get(reading.place.file).map_or("", |file| file.slice(reading.place.span));
        match reading.value {
            Value::Taken(number) => with_decimals_of(number, typed),
            Value::BelowGauge(limit) => format!("<{}", with_decimals_of(limit, typed)).into(),
            Value::NotTaken => "".into(),
        }
    }
}

fn with_decimals_of(number: f64, typed: &str) -> Cow<'_, str> {
    let known = |typed: &str| typed.parse::<f64>().is_ok_and(|known| known.to_bits() == number.to_bits());
    if is_printed(typed) && known(typed) {
        return typed.into();
    }
    let typed = typed.trim_matches(|c: char| c.is_whitespace() || matches!(c, '"' | '<')).replace(',', ".");
    let decimals = typed.split_once('.').map_or(0, |(_, after)| after.len());
    let plain = typed.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+'));
    if plain && known(&typed) { format!("{number:.decimals$}").into() } else { decimal(number).into() }
}

/// Whether a number is written as it is printed, which nearly all of a large file are: `84.0`, not `084`, `84.` or `+84`.
fn is_printed(typed: &str) -> bool {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    let (whole, decimals) = typed.split_once('.').unwrap_or((typed, "0"));
    // Fifteen digits come back from a number as they went in.
    typed.len() <= 15 && digits(whole) && digits(decimals) && (whole == "0" || !whole.starts_with('0'))
}

#[cfg(test)]
mod tests {
    use super::with_decimals_of;

    #[test]
    fn decimals_are_those_of_the_file() {
        let texts =
            ["84.0", "84,00", " 84 ", "\"84.0\"", "<84.0", "8.40e1", "0.084", "", "084.0", "+84", "84."];
        let printed = texts.map(|typed| with_decimals_of(84.0, typed));
        assert_eq!(printed, ["84.0", "84.00", "84", "84.0", "84.0", "84", "84", "84", "84.0", "84", "84"]);
        assert_eq!(with_decimals_of(-0.5, "-0.50"), "-0.50");
    }
}

//! The columns of a climate file by their headings, each with its unit; a unit that is not said is asked about.

use super::model::ClimatePart;
use crate::diag::{Finding, Place, list, nearest};
use crate::study::ClimateFile;
use crate::table::{Field, Header, Unknown, extra, folded, shown, word_and_unit};
use crate::text::{FileId, Span};
use crate::units::{Dimension, UnitRef, unit};

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Column {
    Date,
    Time,
    Part(ClimatePart),
    Aside,
}

/// Every heading that is known, the tool's own word for a column first.
const WORDS: [(Column, &[&str]); 8] = [
    (Column::Date, &["date", "day"]),
    (Column::Time, &["time", "clock", "date time", "datetime", "timestamp"]),
    (Column::Part(ClimatePart::Air), &["air", "air temperature", "temperature", "temp"]),
    (Column::Part(ClimatePart::Humidity), &["humidity", "relative humidity", "rh"]),
    (Column::Part(ClimatePart::Surface), &["surface", "surface temperature"]),
    (Column::Part(ClimatePart::Wet), &["wet", "wetness"]),
    (
        Column::Part(ClimatePart::Sun),
        &["sun", "sunshine", "irradiance", "solar radiation", "global radiation"],
    ),
    (Column::Aside, &["note", "notes", "remark", "station", "site"]),
];

/// How a field becomes a value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Scale {
    /// In percent.
    Percent,
    /// 1 or 0: for all of the row, or for none.
    YesNo,
    /// In a unit; the value is turned into the base of its dimension.
    In(UnitRef),
}

/// A column of values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ValueColumn {
    pub(super) at: usize,
    pub(super) part: ClimatePart,
    pub(super) scale: Scale,
}

/// The columns of a file by their place in a row.
#[derive(Debug, Default, PartialEq)]
pub(super) struct Columns {
    pub(super) date: Option<usize>,
    pub(super) time: Option<usize>,
    pub(super) values: Vec<ValueColumn>,
    /// How many columns have a heading or stand before one that has.
    pub(super) width: usize,
}

/// One heading of the file.
struct Heading {
    text: String,
    place: Place,
    column: Option<Column>,
    unit: Option<String>,
}

/// The columns of a file; `None` where its rows cannot be read, which a finding says.
pub(super) fn columns(
    declared: &ClimateFile,
    (file, text): (FileId, &str),
    header: &Header,
    findings: &mut Vec<Finding>,
) -> Option<Columns> {
    let mut headings: Vec<Heading> = header
        .fields
        .iter()
        .map(|field| heading(file, field.text(text).into_owned(), field.span(text)))
        .collect();
    rename(declared, &mut headings, findings);
    let line = text.get(header.row.start..header.row.end).unwrap_or("").trim_end();
    let line = Place { file, span: Span::new(header.row.start, header.row.start + line.len()) };
    if headings.iter().all(|one| matches!(one.column, None | Some(Column::Aside))) {
        let finding = Finding::error("header-not-known", line, "the first line does not name the columns");
        findings.push(finding.label("this should be the header").help(EXAMPLE).binding());
        return None;
    }
    let mut columns = Columns::default();
    let before = findings.len();
    for (at, heading) in headings.iter().enumerate() {
        if !heading.text.is_empty() {
            columns.width = at + 1;
        }
        if let Err(finding) = take(&mut columns, at, heading) {
            findings.push(*finding);
        }
    }
    let missing = [
        (columns.date.is_none() && columns.time.is_none(), "time"),
        (columns.values.is_empty() && findings.len() == before, "air"),
    ];
    for (_, word) in missing.iter().filter(|(missing, _)| *missing) {
        let message = format!("the file has no column `{word}`");
        findings.push(Finding::error("column-missing", line, message).help(EXAMPLE).binding());
    }
    let unknown = headings.iter().filter(|one| one.column.is_none() && !one.text.is_empty());
    let unknown: Vec<Unknown> = unknown.map(|one| Unknown { text: &one.text, place: one.place }).collect();
    findings.extend(extra(&unknown, ("climate", "climate"), &words(), |_| Some("air in degC")));
    (columns.date.is_some() || columns.time.is_some()).then_some(columns)
}

const EXAMPLE: &str =
    "begin the file with a header, as `time,air degC,humidity %,surface degC,wet min,sun W/m2`";

fn words() -> Vec<&'static str> {
    WORDS.iter().flat_map(|(_, words)| words.iter().copied()).collect()
}

/// A heading with its unit.
fn heading(file: FileId, text: String, span: Span) -> Heading {
    let (column, unit) = word_and_unit(&text, known);
    Heading { place: Place { file, span }, column, unit, text }
}

fn known(text: &str) -> Option<Column> {
    let text = folded(text);
    WORDS.iter().find(|(_, words)| words.contains(&text.as_str())).map(|&(column, _)| column)
}

/// Gives the columns that the study names otherwise their meaning.
fn rename(declared: &ClimateFile, headings: &mut [Heading], findings: &mut Vec<Finding>) {
    for told in &declared.columns {
        let Some(column) = known(&told.word.value) else {
            let message = format!("`{}` is not a column that a climate file has", shown(&told.word.value));
            let near = nearest(&told.word.value, words());
            let help = near.map_or_else(|| EXAMPLE.to_owned(), |near| format!("write `{near}`"));
            findings.push(Finding::error("column-missing", told.word.span, message).help(help).binding());
            continue;
        };
        let called = told.heading.value.trim().to_lowercase();
        if let Some(heading) = headings.iter_mut().find(|one| one.text.to_lowercase() == called) {
            heading.column = Some(column);
            heading.unit = told.unit.clone().or(heading.unit.take());
            continue;
        }
        let message = format!("`{}` has no column `{}`", declared.name.value, shown(&told.heading.value));
        let have: Vec<String> = headings.iter().map(|one| format!("`{}`", shown(&one.text))).collect();
        let finding = Finding::error("column-missing", told.heading.span, message);
        findings.push(finding.help(format!("its columns are {}", list(&have, "and"))).binding());
    }
}

/// Takes a column, or says why it cannot be read.
fn take(columns: &mut Columns, at: usize, heading: &Heading) -> Result<(), Box<Finding>> {
    let Some(column) = heading.column else { return Ok(()) };
    let taken = match column {
        Column::Aside => return Ok(()),
        Column::Date => columns.date.replace(at).is_some(),
        Column::Time => columns.time.replace(at).is_some(),
        Column::Part(part) => {
            let (part, scale) = scale(part, heading)?;
            let taken = columns.values.iter().any(|known| known.part == part);
            columns.values.push(ValueColumn { at, part, scale });
            taken
        }
    };
    if taken {
        let finding =
            Finding::error("column-twice", heading.place, "the file has two columns that tell the same");
        let help = "keep one of them, or give the other another heading";
        return Err(Box::new(finding.label("the second").help(help).binding()));
    }
    match &heading.unit {
        Some(unit) if matches!(column, Column::Date | Column::Time) && !is_local(unit) => {
            let message = format!("it is not known which clock `{}` is", shown(unit));
            let help =
                "write the clock time of the site, by which rounds and coats go, and call the column `time`";
            Err(Box::new(Finding::error("climate-unit", heading.place, message).help(help).binding()))
        }
        _ => Ok(()),
    }
}

fn is_local(unit: &str) -> bool {
    ["local", "local time"].contains(&unit.to_lowercase().as_str())
}

/// How the fields of a column become values, and what they tell by their unit.
fn scale(part: ClimatePart, heading: &Heading) -> Result<(ClimatePart, Scale), Box<Finding>> {
    let written = heading.unit.as_deref();
    let found = written.and_then(unit);
    let percent = |unit: UnitRef| matches!(unit.dimension, Dimension::Humidity | Dimension::PercentOfWhat);
    match (part, written, found) {
        (ClimatePart::Humidity, None | Some("%RH" | "%rh"), _) => return Ok((part, Scale::Percent)),
        (ClimatePart::Humidity, _, Some(unit)) if percent(unit) => return Ok((part, Scale::Percent)),
        (ClimatePart::Wet, None | Some("0/1"), _) => return Ok((part, Scale::YesNo)),
        _ => {}
    }
    let fits = |unit: UnitRef| match (part, unit.dimension) {
        (ClimatePart::Air | ClimatePart::Surface, Dimension::Temperature)
        | (ClimatePart::Wet, Dimension::Time)
        | (ClimatePart::Sun, Dimension::Irradiance | Dimension::RadiantExposure) => Some(part),
        (ClimatePart::Sun, Dimension::Time) => Some(ClimatePart::Sunshine),
        _ => None,
    };
    if let Some((unit, part)) = found.and_then(|unit| Some((unit, fits(unit)?))) {
        return Ok((part, Scale::In(unit)));
    }
    Err(Box::new(unit_not_said(part, heading)))
}

fn unit_not_said(part: ClimatePart, heading: &Heading) -> Finding {
    let text = shown(&heading.text);
    let (either, word, example) = match part {
        ClimatePart::Air => ("degC or degF", "air", "degC"),
        ClimatePart::Humidity => ("percent or a share", "humidity", "%"),
        ClimatePart::Surface => ("degC or degF", "surface", "degC"),
        ClimatePart::Wet => ("minutes, hours, or 1 and 0", "wet", "min"),
        ClimatePart::Sun | ClimatePart::Sunshine => {
            ("W/m2, J/m2 of each row, or hours of sunshine", "sun", "W/m2")
        }
    };
    let message = match &heading.unit {
        Some(unit) => format!("`{}` is no unit of this column: {either}", shown(unit)),
        None => format!("`{text}` does not say whether it is in {either}"),
    };
    Finding::error("climate-unit", heading.place, message)
        .help(format!(
            "call it `{word} {example}`, or write `column \"{text}\" is {word} in {example}` under `climate`"
        ))
        .binding()
}

/// The place of a column in a row; that of the first field where the row has no such field.
pub(super) fn span_of(fields: &[Field], at: Option<usize>, text: &str) -> Span {
    let field = at.and_then(|at| fields.get(at)).or_else(|| fields.first());
    field.map_or(Span::default(), |field| field.span(text))
}

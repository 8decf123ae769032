//! Readings: CSV rows placed on sections, rounds and measures. A missing value is a value.
//!
//! Two forms are told apart by their header, and both are the same sheet: one section a line with
//! its readings side by side (`date, time, round, section, measure, unit, by, 1, 2, 3`), and one
//! reading a line (`date, round, section, measure, value, unit, gauge, by`, with `reading` for its
//! number). Every row is placed, or a finding names its place; equal rows are all kept.
//!
//! ```text
//! bytes ─ source ─▶ pieces ─ parts, rows ─▶ Stage ─ build ─▶ Readings ─ leave_out ─▶ Readings ─ outliers ─▶ Outliers
//!                              └─▶ Faults ─ wording ─▶ findings
//! ```

mod build;
mod climate;
mod columns;
mod confounded;
mod doubled;
mod far_sections;
mod faults;
mod hands;
mod header;
mod leave_out;
mod line;
mod model;
mod names;
mod number;
mod outliers;
mod parts;
mod pages;
mod recent;
mod rows;
mod shelf;
mod source;
mod stage;
mod stopped;
mod tied;
mod unit;
mod without;
mod wording;

pub use climate::{Climate, ClimatePart, ClimateRow, CoatHour, Conditions, seconds_between};
pub use confounded::{Confounded, GoesWith, confounded};
pub use far_sections::{FarSection, far_sections};
pub use model::{Apart, ApartCell, Cell, FileState, Reading, Readings, Summary, Value};
pub use outliers::{Evidence, LimitFrom, Mark, Outliers, Suspect, outliers};
pub use pages::PAGES;
pub use tied::{Tied, tied};

use crate::catalog::Catalog;
use crate::diag::Finding;
use crate::study::{ReadingsFile, Study};
use crate::table;
use crate::text::{FileId, Stored};
use build::Builder;
use faults::Wrong;
use jiff::civil::Date;
use names::Names;
use parts::Start;
use rows::{Lists, Part, Whole};
use source::Bytes;
use stage::{Own, Shape};
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::io;

/// The bytes of a readings file as they lie on the disk.
///
/// Places in findings count bytes after a byte order mark, as [`crate::text::SourceFile`] does.
#[derive(Debug, Clone, Copy)]
pub struct Input<'a> {
    /// Its place among the inputs of the run.
    pub file: FileId,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// A readings file that is read piece by piece and never held as a whole.
#[derive(Clone, Copy)]
pub struct StoredInput<'a> {
    /// Its place among the inputs of the run.
    pub file: FileId,
    /// Its bytes.
    pub bytes: &'a dyn Stored,
}

/// Either of the two.
#[derive(Clone, Copy)]
struct Given<'a> {
    file: FileId,
    bytes: Bytes<'a>,
}

impl<'a> From<Input<'a>> for Given<'a> {
    fn from(input: Input<'a>) -> Self {
        Self { file: input.file, bytes: Bytes::Held(input.bytes) }
    }
}

impl<'a> From<StoredInput<'a>> for Given<'a> {
    fn from(input: StoredInput<'a>) -> Self {
        Self { file: input.file, bytes: Bytes::Stored(input.bytes) }
    }
}

/// Reads the files of a study. `inputs` stand in the order of [`Study::files`]; `None` is an absent file.
///
/// An absent file is no finding here: whether it should be there depends on the day.
pub fn read(study: &Study, inputs: &[Option<Input<'_>>]) -> (Readings, Vec<Finding>) {
    read_as_of(study, inputs, None)
}

/// Reads the files of a study as they stood at the end of a day: rows of later days are passed over,
/// with whatever is wrong in them. A row without a day counts as of the first day of its round.
pub fn read_as_of(
    study: &Study,
    inputs: &[Option<Input<'_>>],
    as_of: Option<Date>,
) -> (Readings, Vec<Finding>) {
    let inputs: Vec<Option<Given<'_>>> = inputs.iter().map(|input| input.map(Given::from)).collect();
    read_given(study, &inputs, as_of).unwrap_or_else(|_| unreachable!("what is held is there"))
}

/// As [`read_as_of`], of files that are read piece by piece: what is needed is what the readings take, and little more.
///
/// # Errors
/// Where a file cannot be read.
pub fn read_stored(
    study: &Study,
    inputs: &[Option<StoredInput<'_>>],
    as_of: Option<Date>,
) -> io::Result<(Readings, Vec<Finding>)> {
    let inputs: Vec<Option<Given<'_>>> = inputs.iter().map(|input| input.map(Given::from)).collect();
    read_given(study, &inputs, as_of)
}

fn read_given(
    study: &Study,
    inputs: &[Option<Given<'_>>],
    as_of: Option<Date>,
) -> io::Result<(Readings, Vec<Finding>)> {
    let mut findings = Vec::new();
    let of_readings = inputs.get(..study.readings.len()).unwrap_or(inputs);
    let bytes = of_readings.iter().flatten().map(|input| input.bytes.length()).sum();
    let shape = Shape::of(study, bytes);
    let mut builder = Builder::new(shape);
    let mut later = BTreeSet::new();
    let mut files = vec![FileState::default(); study.readings.len()];
    for (at, state) in files.iter_mut().enumerate() {
        if let Some(input) = inputs.get(at).copied().flatten() {
            let part;
            (*state, part) = file(study, (at, shape), input, as_of, &mut findings)?;
            if let Some(part) = part {
                builder.absorb(part.stages, u32::try_from(at).unwrap_or(u32::MAX));
                later.extend(part.later.into_iter().map(|keys| (at, keys)));
            }
        }
    }
    let of_climate = inputs.get(study.readings.len()..).unwrap_or(&[]);
    let mut climate = Vec::with_capacity(study.climate.len());
    for at in 0..study.climate.len() {
        let bytes: Option<(FileId, Cow<'_, [u8]>)> = match of_climate.get(at).copied().flatten() {
            Some(input) => Some((input.file, input.bytes.whole()?)),
            None => None,
        };
        let one = bytes.as_ref().map(|(file, bytes)| Input { file: *file, bytes });
        climate.push(climate::read(study, at, one, as_of, &mut findings));
    }
    let mut readings = Readings { files, climate, ..builder.finish() };
    findings.extend(doubled::findings(study, &mut readings));
    leave_out::apply(study, &mut readings, &later, &mut findings);
    build::leave_out(&mut readings);
    crate::diag::sort(&mut findings);
    Ok((readings, findings))
}

/// Reads one file; gives what became of it, and what its rows say unless none could be read. Most files are read in pieces;
/// what cannot be cut into them, or is no text, is held as a whole.
fn file(
    study: &Study,
    (at, shape): (usize, Shape),
    input: Given<'_>,
    as_of: Option<Date>,
    findings: &mut Vec<Finding>,
) -> io::Result<(FileState, Option<Part>)> {
    if let Some(read) = in_pieces(study, (at, shape), input, as_of, findings)? {
        return Ok(read);
    }
    let bytes = input.bytes.whole()?;
    let absent = FileState { file: Some(input.file), unread: true, ..FileState::default() };
    let text = match table::text(input.file, &bytes) {
        Ok(text) => text,
        Err(finding) => {
            findings.push(*finding);
            return Ok((absent, None));
        }
    };
    let (Some(header), Some(declared)) = (table::header(text), study.readings.get(at)) else {
        findings.push(table::empty(input.file, "study", "date,round,section,measure,value,unit,gauge,by"));
        return Ok((FileState { unread: false, ..absent }, None));
    };
    let Some(columns) = columns::columns(study, declared, (input.file, text), &header, findings) else {
        return Ok((absent, None));
    };
    let (lists, columns, separator) = (&lists(study, declared), &columns, header.separator);
    let part =
        parts::read_once(Whole { study, columns, lists, as_of, separator, shape }, text, header.row.end);
    Ok(told(study, input.file, part, findings))
}

/// The same in pieces, by what its first piece says of its columns; `None` where it has to be read as a whole.
fn in_pieces(
    study: &Study,
    (at, shape): (usize, Shape),
    input: Given<'_>,
    as_of: Option<Date>,
    findings: &mut Vec<Finding>,
) -> io::Result<Option<(FileState, Option<Part>)>> {
    let length = input.bytes.length();
    if length <= parts::PIECE {
        return Ok(None);
    }
    let mut buffer = crate::text::Piece::default();
    let (_, first) = input.bytes.lines(0, (0, parts::PIECE), &mut buffer)?;
    let (Ok(text), Some(declared)) = (table::text(input.file, first), study.readings.get(at)) else {
        return Ok(None);
    };
    let Some(header) = table::header(text).filter(|header| header.row.open_quote.is_none()) else {
        return Ok(None);
    };
    let mut found = Vec::new();
    let Some(columns) = columns::columns(study, declared, (input.file, text), &header, &mut found) else {
        return Ok(None);
    };
    let start = Start { mark: first.len() - text.len(), rows: header.row.end };
    let (lists, columns, separator) = (&lists(study, declared), &columns, header.separator);
    let whole = Whole { study, columns, lists, as_of, separator, shape };
    let Some(part) = parts::read(whole, input.bytes, start, parts::PIECE)? else { return Ok(None) };
    findings.extend(found);
    Ok(Some(told(study, input.file, part, findings)))
}

/// What became of a file, with the findings about its rows.
fn told(
    study: &Study,
    file: FileId,
    mut part: Part,
    findings: &mut Vec<Finding>,
) -> (FileState, Option<Part>) {
    // Where a date could not be read, that is what has to be mended first.
    if let (false, Some((count, first))) = (part.bad_dates, part.undated) {
        part.faults.add_many(Wrong::Undated, first, count);
    }
    findings.extend(wording::findings(study, file, std::mem::take(&mut part.faults).into_list()));
    (FileState { file: Some(file), ..part.state }, Some(part))
}

/// The names that rows may use; a measure of the trade also goes by its other names.
fn lists(study: &Study, file: &ReadingsFile) -> Lists {
    let mut measures = Names::new(study.measures.iter().map(|measure| measure.name.value.as_str()));
    for (id, measure) in study.measures.iter().enumerate() {
        if let Some(known) = Catalog::built_in().measure(&measure.name.value) {
            for alias in known.aliases.iter().chain([&known.id, &known.label]) {
                measures.also(alias, id);
            }
        }
    }
    // L*, a* and b* are written with a star everywhere but in a name.
    for (id, measure) in study.measures.iter().enumerate() {
        if let Some(letter) = measure.name.value.strip_suffix("-star") {
            measures.also(&format!("{letter}*"), id);
        }
    }
    let own = Own::of(study);
    let mut sections = Names::new(study.places().map(|(_, section)| section.code.as_str()));
    // A file of one site need not repeat it in every row.
    let here = study.places().filter(|(_, section)| file.site.is_some() && section.site == file.site);
    for (id, section) in here {
        sections.also(section.code.split(' ').next_back().unwrap_or(&section.code), id.index());
    }
    sections.also("tile", own.tile());
    sections.also("panel", own.panel());
    let mut rounds = Names::new(study.rounds.iter().map(|round| round.name.value.as_str()));
    // Pages in German have `Monat 3`, and a column headed `when` has `3 months`.
    for (id, round) in study.rounds.iter().enumerate() {
        let Some((word, number)) = round.name.value.split_once(' ') else { continue };
        let german = [("day", "tag"), ("week", "woche"), ("month", "monat"), ("year", "jahr")];
        if let Some((_, german)) = german.iter().find(|(english, _)| *english == word) {
            rounds.also(&format!("{german} {number}"), id);
            rounds.also(&format!("{number} {word}"), id);
            rounds.also(&format!("{number} {word}s"), id);
        }
    }
    for (at, _) in study.prep_readings().enumerate() {
        rounds.also(&format!("prep {}", at + 1), own.rounds + at);
    }
    Lists { sections, rounds, measures }
}

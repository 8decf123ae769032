//! Readings: CSV rows placed on sections, rounds and measures. A missing value is a value.
//!
//! Two forms are told apart by their header, and both are the same sheet: one section a line with
//! its readings side by side (`date, time, round, section, measure, unit, by, 1, 2, 3`), and one
//! reading a line (`date, round, section, measure, value, unit, gauge, by`, with `reading` for its
//! number). Every row is placed, or a finding names its place; equal rows are all kept.
//!
//! ```text
//! bytes ─ encoding ─▶ text ─ header, columns ─▶ Columns ─ rows ─▶ Builder ─ build, leave_out ─▶ Readings ─ outliers ─▶ Outliers
//!                                                          └─▶ Faults ─ wording ─▶ findings
//! ```

mod build;
mod climate;
mod columns;
mod confounded;
mod doubled;
mod far_sections;
mod faults;
mod header;
mod leave_out;
mod model;
mod names;
mod number;
mod outliers;
mod parts;
mod pages;
mod recent;
mod rows;
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
use crate::text::FileId;
use build::{Builder, Own};
use faults::Wrong;
use jiff::civil::Date;
use names::Names;
use rows::{Lists, Part, Whole};
use std::collections::BTreeSet;

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
    let mut findings = Vec::new();
    let mut builder = Builder::new(study);
    let mut later = BTreeSet::new();
    let mut files = vec![FileState::default(); study.readings.len()];
    for (at, state) in files.iter_mut().enumerate() {
        if let Some(input) = inputs.get(at).copied().flatten() {
            let part;
            (*state, part) = file(study, at, input, as_of, &mut findings);
            if let Some(part) = part {
                builder.absorb(part.builder);
                later.extend(part.later.rows.into_iter().map(|keys| (at, keys)));
            }
        }
    }
    let of_climate = inputs.get(study.readings.len()..).unwrap_or(&[]);
    let one = |at| of_climate.get(at).copied().flatten();
    let climate =
        (0..study.climate.len()).map(|at| climate::read(study, at, one(at), as_of, &mut findings)).collect();
    let mut readings = Readings { files, climate, ..builder.finish() };
    build::number(&mut readings);
    findings.extend(doubled::findings(study, &mut readings));
    leave_out::apply(study, &mut readings, &later, &mut findings);
    build::summarise(&mut readings);
    crate::diag::sort(&mut findings);
    (readings, findings)
}

/// Reads one file; gives what became of it, and what its rows say unless none could be read.
fn file(
    study: &Study,
    at: usize,
    input: Input<'_>,
    as_of: Option<Date>,
    findings: &mut Vec<Finding>,
) -> (FileState, Option<Part>) {
    let absent = FileState { file: Some(input.file), unread: true, ..FileState::default() };
    let text = match table::text(input.file, input.bytes) {
        Ok(text) => text,
        Err(finding) => {
            findings.push(*finding);
            return (absent, None);
        }
    };
    let (Some(header), Some(declared)) = (table::header(text), study.readings.get(at)) else {
        findings.push(table::empty(input.file, "study", "date,round,section,measure,value,unit,gauge,by"));
        return (FileState { unread: false, ..absent }, None);
    };
    let Some(columns) = columns::columns(study, declared, (input.file, text), &header, findings) else {
        return (absent, None);
    };
    let lists = &lists(study, declared);
    let (columns, separator) = (&columns, header.separator);
    let file = u32::try_from(at).unwrap_or(u32::MAX);
    let whole = Whole { study, text, columns, lists, as_of, file, separator };
    let mut part = parts::read(whole, header.row.end);
    // Where a date could not be read, that is what has to be mended first.
    if part.dates_sound
        && let Some((count, one)) = part.builder.undated()
    {
        part.faults.add_many(Wrong::Undated, one.span(), count);
    }
    findings.extend(wording::findings(study, input.file, std::mem::take(&mut part.faults).into_list()));
    let state = FileState { file: Some(input.file), readings: part.builder.len(), ..part.state };
    (state, Some(part))
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
    for (at, _) in study.prep_readings().enumerate() {
        rounds.also(&format!("prep {}", at + 1), own.rounds + at);
    }
    Lists { sections, rounds, measures }
}

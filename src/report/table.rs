//! All readings as rows, one a reading, for people who compute with them.

use super::material::Material;
use super::names;
use crate::readings::{Apart, Cell};
use crate::study::{MeasureId, RoundId};
use serde::Serialize;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// A reading. Numbers are as they were read, with a point for decimals; an empty text is a value that is absent.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingRow<'a> {
    /// Day, `2026-05-01`.
    pub date: String,
    /// Round.
    pub round: Cow<'a, str>,
    /// Section.
    pub section: &'a str,
    /// Name of the product in the study, or `bare`, `carrier-only`, `untouched`.
    pub treatment: &'a str,
    /// Measure.
    pub measure: &'a str,
    /// Number of the reading in its cell, from 1.
    pub reading: u32,
    /// Value in the unit; empty where none was taken, `<` in front of a limit of the gauge.
    pub value: Cow<'a, str>,
    /// Unit.
    pub unit: &'a str,
    /// Gauge as the file names it.
    pub gauge: &'a str,
    /// Who read.
    pub by: &'a str,
    /// Why the reading is left out; empty where it counts.
    pub left_out: &'a str,
}

/// Every reading in order of measure, round and section, as the page has them.
pub fn reading_rows<'a>(material: &'a Material<'a>) -> impl Iterator<Item = ReadingRow<'a>> + 'a {
    let study = material.study;
    let on_sections = ordered(material).into_iter().flat_map(move |cell| {
        material.readings.of(cell).map(move |reading| ReadingRow {
            date: reading.date.map_or_else(String::new, |date| date.to_string()),
            round: names::round_written(study, cell.round).into(),
            section: names::section(study, cell.section),
            treatment: study.treatment_name(study.section(cell.section).treatment),
            measure: names::measure(study, cell.measure),
            reading: reading.number,
            value: material.as_typed(&reading),
            unit: study.measure(cell.measure).unit.symbol.as_str(),
            gauge: reading.gauge.unwrap_or_default(),
            by: reading.by.unwrap_or_default(),
            left_out: reason(material, reading.left_out, reading.place.file.0),
        })
    });
    on_sections.chain(apart_rows(material))
}

fn ordered<'a>(material: &Material<'a>) -> Vec<&'a Cell> {
    let mut cells: Vec<&Cell> = material.readings.cells().iter().collect();
    cells.sort_by_key(|cell| (cell.measure, cell.round, cell.section));
    cells
}

/// The first and the last line of each measure and round in the file of readings; its head is line 1.
pub(super) fn ranges(material: &Material<'_>) -> BTreeMap<(MeasureId, RoundId), (usize, usize)> {
    let mut ranges = BTreeMap::new();
    let mut line = 1;
    for cell in ordered(material) {
        let first = line + 1;
        line += material.readings.of(cell).count();
        if line >= first {
            ranges.entry((cell.measure, cell.round)).or_insert((first, line)).1 = line;
        }
    }
    ranges
}

/// Readings that no section carries, behind all others.
fn apart_rows<'a>(material: &'a Material<'a>) -> impl Iterator<Item = ReadingRow<'a>> + 'a {
    let study = material.study;
    material.readings.apart().iter().flat_map(move |apart| {
        let (section, round) = match apart.at {
            Apart::Tile(round) => ("tile", Cow::Borrowed(names::round_written(study, round))),
            Apart::Prep(step) => ("panel", Cow::Owned(format!("prep {}", step + 1))),
        };
        material.readings.of_apart(apart).map(move |reading| ReadingRow {
            date: reading.date.map_or_else(String::new, |date| date.to_string()),
            round: round.clone(),
            section,
            treatment: "",
            measure: names::measure(study, apart.measure()),
            reading: reading.number,
            value: material.as_typed(&reading),
            unit: study.measure(apart.measure()).unit.symbol.as_str(),
            gauge: reading.gauge.unwrap_or_default(),
            by: reading.by.unwrap_or_default(),
            left_out: "",
        })
    })
}

// The statement stands in the list of the readings file that the reading came from.
fn reason<'a>(material: &Material<'a>, place: Option<usize>, file: u32) -> &'a str {
    let Some(place) = place else { return "" };
    let states = material.readings.files.iter().zip(&material.study.readings);
    let of_file =
        states.filter(|(state, _)| state.file.is_some_and(|id| id.0 == file)).map(|(_, known)| known);
    of_file.into_iter().find_map(|known| known.leave_out.get(place)).map_or("", |out| out.because.as_str())
}

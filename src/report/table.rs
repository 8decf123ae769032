//! All readings as rows, one a reading, for people who compute with them.

use super::material::Material;
use super::names;
use crate::readings::Apart;
use serde::Serialize;

/// A reading. Numbers are as they were read, with a point for decimals; an empty text is a value that is absent.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReadingRow {
    /// Day, `2026-05-01`.
    pub date: String,
    /// Round.
    pub round: String,
    /// Section.
    pub section: String,
    /// Name of the product in the study, or `bare`, `carrier-only`, `untouched`.
    pub treatment: String,
    /// Measure.
    pub measure: String,
    /// Number of the reading in its cell, from 1.
    pub reading: u32,
    /// Value in the unit; empty where none was taken, `<` in front of a limit of the gauge.
    pub value: String,
    /// Unit.
    pub unit: String,
    /// Gauge as the file names it.
    pub gauge: String,
    /// Who read.
    pub by: String,
    /// Why the reading is left out; empty where it counts.
    pub left_out: String,
}

/// Every reading in order of section, round and measure.
pub fn reading_rows<'a>(material: &'a Material<'a>) -> impl Iterator<Item = ReadingRow> + 'a {
    let study = material.study;
    let on_sections = material.readings.cells().iter().flat_map(move |cell| {
        material.readings.of(cell).map(move |reading| ReadingRow {
            date: reading.date.map_or_else(String::new, |date| date.to_string()),
            round: names::round(study, cell.round).to_owned(),
            section: names::section(study, cell.section).to_owned(),
            treatment: study.treatment_name(study.section(cell.section).treatment).to_owned(),
            measure: names::measure(study, cell.measure).to_owned(),
            reading: reading.number,
            value: material.as_typed(&reading),
            unit: study.measure(cell.measure).unit.symbol.clone(),
            gauge: reading.gauge.unwrap_or_default().to_owned(),
            by: reading.by.unwrap_or_default().to_owned(),
            left_out: reason(material, reading.left_out, reading.place.file.0),
        })
    });
    on_sections.chain(apart_rows(material))
}

/// Readings that no section carries, behind all others.
fn apart_rows<'a>(material: &'a Material<'a>) -> impl Iterator<Item = ReadingRow> + 'a {
    let study = material.study;
    material.readings.apart().iter().flat_map(move |apart| {
        let (section, round) = match apart.at {
            Apart::Tile(round) => ("tile", names::round(study, round).to_owned()),
            Apart::Prep(step) => ("panel", format!("prep {}", step + 1)),
        };
        material.readings.of_apart(apart).map(move |reading| ReadingRow {
            date: reading.date.map_or_else(String::new, |date| date.to_string()),
            round: round.clone(),
            section: section.to_owned(),
            treatment: String::new(),
            measure: names::measure(study, apart.measure()).to_owned(),
            reading: reading.number,
            value: material.as_typed(&reading),
            unit: study.measure(apart.measure()).unit.symbol.clone(),
            gauge: reading.gauge.unwrap_or_default().to_owned(),
            by: reading.by.unwrap_or_default().to_owned(),
            left_out: String::new(),
        })
    })
}

// The statement stands in the list of the readings file that the reading came from.
fn reason(material: &Material<'_>, place: Option<usize>, file: u32) -> String {
    let states = material.readings.files.iter().zip(&material.study.readings);
    let of_file =
        states.filter(|(state, _)| state.file.is_some_and(|id| id.0 == file)).map(|(_, known)| known);
    let reason = place.and_then(|place| of_file.into_iter().find_map(|known| known.leave_out.get(place)));
    reason.map_or_else(String::new, |out| out.because.clone())
}

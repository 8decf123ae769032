//! All readings as rows, one a reading, for people who compute with them.

use super::material::Material;
use super::names;
use crate::readings::{Apart, ApartCell, Cell, Reading};
use crate::study::{MeasureId, RoundId};
use jiff::civil::Date;
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The readings of a cell; what they share stands once, since a study may have millions of them.
#[derive(Debug, Clone, Copy)]
pub struct CellRows<'a> {
    /// Round; `prep` where the panel was read in a step of the preparation.
    pub round: &'a str,
    /// Number of that step, from 1.
    pub step: Option<usize>,
    /// Section; `tile` or `panel` where no section carries them.
    pub section: &'a str,
    /// Name of the product in the study, or `bare`, `carrier-only`, `untouched`; empty without a section.
    pub treatment: &'a str,
    /// Measure.
    pub measure: &'a str,
    /// Unit.
    pub unit: &'a str,
    rows: Rows<'a>,
}

#[derive(Debug, Clone, Copy)]
enum Rows<'a> {
    Of(&'a Cell),
    Apart(&'a ApartCell),
}

/// A reading of a cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadingRow<'a> {
    /// Day.
    pub date: Option<Date>,
    /// Number of the reading in its cell, from 1.
    pub reading: u32,
    /// Value in the unit, as it was read, with a point for decimals; empty where none was taken, `<` in front of a
    /// limit of the gauge.
    pub value: Cow<'a, str>,
    /// Gauge as the file names it; empty where it names none.
    pub gauge: &'a str,
    /// Who read; empty where nobody is named.
    pub by: &'a str,
    /// What its row remarks; empty where it remarks nothing.
    pub note: &'a str,
    /// Why the reading is left out; empty where it counts.
    pub left_out: &'a str,
}

/// Every cell in order of measure, round and section, as the page has them; those without a section behind all others.
pub fn reading_cells<'a>(material: &'a Material<'a>) -> impl Iterator<Item = CellRows<'a>> + 'a {
    let study = material.study;
    let of_measure = |id| (names::measure(study, id), study.measure(id).unit.symbol.as_str());
    let on_sections = ordered(material).into_iter().map(move |cell| {
        let (measure, unit) = of_measure(cell.measure);
        CellRows {
            round: names::round_written(study, cell.round),
            step: None,
            section: names::section(study, cell.section),
            treatment: study.treatment_name(study.section(cell.section).treatment),
            measure,
            unit,
            rows: Rows::Of(cell),
        }
    });
    let apart = material.readings.apart().iter().map(move |apart| {
        let (measure, unit) = of_measure(apart.measure());
        let (section, round, step) = match apart.at {
            Apart::Tile(round) => ("tile", names::round_written(study, round), None),
            Apart::Prep(step) => ("panel", "prep", Some(step + 1)),
        };
        CellRows { round, step, section, treatment: "", measure, unit, rows: Rows::Apart(apart) }
    });
    on_sections.chain(apart)
}

impl<'a> CellRows<'a> {
    /// Its readings in the order of their files.
    pub fn readings(&self, material: &'a Material<'a>) -> impl Iterator<Item = ReadingRow<'a>> + 'a {
        let (of, apart) = match self.rows {
            Rows::Of(cell) => (Some(material.readings.of(cell)), None),
            Rows::Apart(cell) => (None, Some(material.readings.of_apart(cell))),
        };
        of.into_iter().flatten().chain(apart.into_iter().flatten()).map(|reading| row(material, &reading))
    }
}

impl ReadingRow<'_> {
    /// True if both are of one gauge, person, reason to be left out and remark.
    pub fn is_taken_as(&self, other: &ReadingRow<'_>) -> bool {
        (self.gauge, self.by, self.left_out, self.note) == (other.gauge, other.by, other.left_out, other.note)
    }
}

fn row<'a>(material: &'a Material<'a>, reading: &Reading<'a>) -> ReadingRow<'a> {
    ReadingRow {
        date: reading.date,
        reading: reading.number,
        value: material.as_typed(reading),
        gauge: reading.gauge.unwrap_or_default(),
        by: reading.by.unwrap_or_default(),
        note: reading.note.unwrap_or_default(),
        left_out: reason(material, reading.left_out, reading.place.file.0),
    }
}

fn ordered<'a>(material: &Material<'a>) -> Vec<&'a Cell> {
    let mut cells: Vec<&Cell> = material.readings.cells().iter().collect();
    cells.sort_by_key(|cell| (cell.measure, cell.round, cell.section));
    cells
}

/// The first and the last line of each measure and round in the file of readings.
pub(super) type Ranges = BTreeMap<(MeasureId, RoundId), (usize, usize)>;

/// Where the readings of each measure and round stand in the file; its head is line 1.
pub(super) fn ranges(material: &Material<'_>) -> Ranges {
    let mut ranges = Ranges::new();
    let mut line = 1;
    for cell in ordered(material) {
        let first = line + 1;
        line += cell.rows();
        if line >= first {
            ranges.entry((cell.measure, cell.round)).or_insert((first, line)).1 = line;
        }
    }
    ranges
}

// The statement stands in the list of the readings file that the reading came from.
fn reason<'a>(material: &Material<'a>, place: Option<usize>, file: u32) -> &'a str {
    let Some(place) = place else { return "" };
    let states = material.readings.files.iter().zip(&material.study.readings);
    let of_file =
        states.filter(|(state, _)| state.file.is_some_and(|id| id.0 == file)).map(|(_, known)| known);
    of_file.into_iter().find_map(|known| known.leave_out.get(place)).map_or("", |out| out.because.as_str())
}

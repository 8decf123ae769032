//! The noun of this phase: every reading with its cell, and every cell with its numbers.

use super::climate::{Climate, CoatHour, coat_hours};
use super::shelf::{Kind, Packed, Part, Shelf};
use crate::diag::Place;
use crate::stats::summary::Moments;
use crate::study::{MeasureId, RoundId, SectionId, Study};
use crate::text::FileId;
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What was read. A value that is missing is a value too, and never a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// A number, in the unit of the measure.
    Taken(f64),
    /// Below this, which the gauge cannot tell; in the unit of the measure.
    BelowGauge(f64),
    /// Not taken, as the file says or as a place that was left blank leaves open.
    NotTaken,
}

impl Value {
    /// The number, if there is one.
    pub fn number(self) -> Option<f64> {
        if let Self::Taken(value) = self { Some(value) } else { None }
    }
}

/// One reading, in the order of its cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading<'r> {
    /// What was read.
    pub value: Value,
    /// Its number in the cell, from 1.
    pub number: u32,
    /// True if the file gives the number; else it is the order of the rows.
    pub numbered: bool,
    /// Where the value stands.
    pub place: Place,
    /// The day, if the row has one.
    pub date: Option<Date>,
    /// The gauge as the row names it.
    pub gauge: Option<&'r str>,
    /// Who read.
    pub by: Option<&'r str>,
    /// What the row remarks.
    pub note: Option<&'r str>,
    /// The statement that leaves it out, by its place in the list of its readings file.
    pub left_out: Option<usize>,
}

/// Number, mean and spread of a set of values, in the unit of the measure.
#[derive(Clone, Copy, PartialEq)]
pub struct Summary {
    /// How many values.
    pub n: u32,
    /// Smallest value; 0 without values.
    pub min: f64,
    /// Largest value; 0 without values.
    pub max: f64,
    // Infinite where there is none: an option would take a word more for each number of each cell.
    mean: f64,
    sd: f64,
}

impl std::fmt::Debug for Summary {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut numbers = f.debug_struct("Summary");
        numbers.field("n", &self.n).field("mean", &self.mean()).field("sd", &self.sd());
        numbers.field("min", &self.min).field("max", &self.max).finish()
    }
}

impl Default for Summary {
    fn default() -> Self {
        Self::of(&[])
    }
}

impl Summary {
    /// Of values in any order.
    pub(super) fn of(values: &[f64]) -> Self {
        let moments = Moments::of(values);
        let (min, max) = moments.ends.unwrap_or_default();
        Self {
            n: u32::try_from(moments.n).unwrap_or(u32::MAX),
            min,
            max,
            mean: moments.mean.unwrap_or(f64::INFINITY),
            sd: moments.sd().unwrap_or(f64::INFINITY),
        }
    }

    /// Mean; `None` without values, and where they are too large for one.
    pub fn mean(&self) -> Option<f64> {
        Some(self.mean).filter(|mean| mean.is_finite())
    }

    /// Standard deviation with divisor n - 1; `None` below two values, and where they are too large for one.
    pub fn sd(&self) -> Option<f64> {
        Some(self.sd).filter(|sd| sd.is_finite())
    }
}

/// One measure on one section in one round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// The section.
    pub section: SectionId,
    /// The round.
    pub round: RoundId,
    /// The measure.
    pub measure: MeasureId,
    /// The numbers that were taken and not left out.
    pub kept: Summary,
    /// How many numbers were taken, left out or not.
    pub taken: u32,
    /// How many readings are below the gauge; left out ones not counted.
    pub below_gauge: u32,
    /// How many readings the file says were not taken, as `n/a` does; a blank says nothing.
    pub not_taken: u32,
    /// How many places were left blank, so that nobody said why.
    pub blank: u32,
    /// How many readings are left out.
    pub left_out: u32,
    /// How many readings have a number in their file that one before them has: a row may have been doubled.
    pub doubled: u32,
    /// First and last day of its readings.
    pub dates: Option<(Date, Date)>,
    /// A file gives numbers to readings of it.
    pub(super) numbered: bool,
    pub(super) shelf: u32,
    pub(super) start: u32,
    pub(super) len: u32,
}

/// Where a reading lies: its shelf, and its place there.
pub(super) type At = (u32, u32);

impl Cell {
    /// Without numbers yet. `rows` is the shelf, and the first and the count of its readings there.
    pub(super) fn empty(ids: (SectionId, RoundId, MeasureId), rows: (u32, u32, u32)) -> Self {
        Self {
            section: ids.0,
            round: ids.1,
            measure: ids.2,
            kept: Summary::default(),
            taken: 0,
            below_gauge: 0,
            not_taken: 0,
            blank: 0,
            left_out: 0,
            doubled: 0,
            dates: None,
            numbered: false,
            shelf: rows.0,
            start: rows.1,
            len: rows.2,
        }
    }

    /// Where a reading of it lies, by its number from 0.
    pub(super) fn place(&self, nth: usize) -> At {
        (self.shelf, self.start + u32::try_from(nth).unwrap_or(u32::MAX))
    }

    /// True where nothing was read, and nobody said that it was not taken.
    pub fn is_blank(&self) -> bool {
        self.len == self.blank
    }

    /// How many readings it has in its files, whatever became of them.
    pub fn rows(&self) -> usize {
        self.len as usize
    }

    /// How many readings it has that are not left out, those below the gauge among them.
    pub fn count(&self) -> u32 {
        self.kept.n + self.below_gauge
    }

    /// The places of its readings on its shelf.
    pub(super) fn range(&self) -> std::ops::Range<u32> {
        self.start..self.start + self.len
    }
}

/// What readings belong to that no section carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Apart {
    /// The reference tile of the gauge, at a round.
    Tile(RoundId),
    /// Places of the whole panel, at a `read` step of the preparation, counted from 0.
    Prep(usize),
}

/// Readings of one measure that no section carries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ApartCell {
    /// What they belong to.
    pub at: Apart,
    pub(super) cell: Cell,
}

impl ApartCell {
    /// The measure.
    pub fn measure(&self) -> MeasureId {
        self.cell.measure
    }

    /// The numbers that were taken.
    pub fn numbers(&self) -> Summary {
        self.cell.kept
    }

    /// First and last day of the readings.
    pub fn dates(&self) -> Option<(Date, Date)> {
        self.cell.dates
    }
}

/// What became of the rows of one readings file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct FileState {
    /// The file; `None` where it is absent.
    pub file: Option<FileId>,
    /// True where none of its rows could be read, because of its header or its encoding; a finding says why.
    pub unread: bool,
    /// True for one section a line with its readings side by side.
    pub sheet: bool,
    /// Rows below the header that are not blank.
    pub rows: usize,
    /// Rows of which a finding says why a reading could not be placed.
    pub refused: usize,
    /// Rows that are laid out and hold no reading yet.
    pub waiting: usize,
    /// Rows of later days than the one as of which the files are read.
    pub later: usize,
    /// Readings that were placed.
    pub readings: usize,
}

/// What neighbouring readings share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Context {
    /// Place of the file in the study's list.
    pub(super) file: u32,
    pub(super) date: Option<Date>,
    pub(super) gauge: Option<u32>,
    pub(super) by: Option<u32>,
    pub(super) note: Option<u32>,
}

/// A reading as it is kept, with its context, its place and its number.
#[derive(Debug, Clone, Copy)]
pub(super) struct Kept<'r> {
    pub(super) packed: &'r Packed,
    pub(super) context: &'r Context,
    pub(super) at: At,
    pub(super) number: u32,
}

/// All readings of a study, cell by cell; within a cell in the order of the files.
#[derive(Debug, Default)]
pub struct Readings {
    /// One for each file of the study, in its order.
    pub files: Vec<FileState>,
    /// One for each climate file of the study, in its order.
    pub climate: Vec<Climate>,
    pub(super) cells: Vec<Cell>,
    pub(super) apart: Vec<ApartCell>,
    /// Where the cells of each section begin; then their end.
    pub(super) sections: Vec<u32>,
    /// The readings in the order of their cells, in shelves of neighbouring cells.
    pub(super) shelves: Vec<Shelf>,
    pub(super) contexts: Vec<Context>,
    /// How many readings each context has.
    pub(super) context_rows: Vec<usize>,
    /// Names of gauges and people, and remarks.
    pub(super) words: Vec<String>,
    /// Place of a reading, and the statement that leaves it out; in order of the places.
    pub(super) left_out: Vec<(At, u32)>,
    /// What rows name whose readings could not be placed, and how many such rows there are.
    pub(super) refused: BTreeMap<Refused, u32>,
}

/// What a row names of which a reading could not be placed; `None` is a part that is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Refused {
    pub(super) section: Option<SectionId>,
    pub(super) round: Option<RoundId>,
    pub(super) measure: Option<MeasureId>,
}

impl Readings {
    /// True if a statement of a readings file leaves a reading out, both by their places in the lists of the study.
    pub fn leaves_out(&self, file: usize, statement: usize) -> bool {
        let is_of_file = |(shelf, at): At| {
            let part = self.shelves.get(shelf as usize).and_then(|shelf| shelf.parts(at..at + 1).next());
            let context = part.and_then(|part| self.contexts.get(part.context as usize));
            context.is_some_and(|context| context.file as usize == file)
        };
        self.left_out.iter().any(|&(at, known)| known as usize == statement && is_of_file(at))
    }

    /// The hour of every coat that has a record, in their order; without any record that of the planned start.
    pub fn coat_hours(&self, study: &Study) -> Vec<CoatHour> {
        coat_hours(study, &self.climate)
    }

    /// How many rows, of readings and of climate, are of later days than the one as of which the files are read.
    pub fn later(&self) -> usize {
        let all = self.files.iter().chain(self.climate.iter().map(|climate| &climate.state));
        all.map(|file| file.later).sum()
    }

    /// True if nothing was read yet.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// How many readings there are, those not taken among them.
    pub fn len(&self) -> usize {
        self.shelves.iter().map(|shelf| shelf.len as usize).sum()
    }

    /// Every cell that has a row, by section, then round, then measure.
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// The cell of a section, round and measure, if a row belongs to it.
    pub fn cell(&self, section: SectionId, round: RoundId, measure: MeasureId) -> Option<&Cell> {
        let from = *self.sections.get(section.index())? as usize;
        let own = self.cells.get(from..*self.sections.get(section.index() + 1)? as usize)?;
        let at = own.binary_search_by_key(&(round, measure), |cell| (cell.round, cell.measure)).ok()?;
        own.get(at)
    }

    /// Notes where the cells of each section begin, once they are sorted.
    pub(super) fn index(&mut self) {
        self.sections.clear();
        for (at, cell) in self.cells.iter().enumerate() {
            let at = u32::try_from(at).unwrap_or(u32::MAX);
            self.sections.resize(self.sections.len().max(cell.section.index() + 1), at);
        }
        self.sections.push(u32::try_from(self.cells.len()).unwrap_or(u32::MAX));
    }

    /// The readings of a cell as they are kept, side by side, each with the place on the shelf of the first of its file.
    fn parts(&self, cell: &Cell) -> impl Iterator<Item = (Part<'_>, u32)> {
        let shelf = self.shelves.get(cell.shelf as usize);
        let mut first = (None, 0);
        shelf.into_iter().flat_map(|shelf| shelf.parts(cell.range())).map(move |part| {
            let file = self.contexts.get(part.context as usize).map(|context| context.file);
            first = if first.0 == file { first } else { (file, part.at) };
            (part, first.1)
        })
    }

    /// The readings of a cell as they are kept, in the order of the files.
    pub(super) fn rows(&self, cell: &Cell) -> impl Iterator<Item = Kept<'_>> {
        let shelf = cell.shelf;
        self.parts(cell).flat_map(move |(part, first)| {
            part.rows.iter().zip(part.at..).filter_map(move |row| self.kept(shelf, part, row, first))
        })
    }

    fn kept<'r>(
        &'r self,
        shelf: u32,
        part: Part<'_>,
        (packed, at): (&'r Packed, u32),
        first: u32,
    ) -> Option<Kept<'r>> {
        let context = self.contexts.get(part.context as usize)?;
        let own = if packed.is(Packed::NUMBERED) { self.shelves.get(shelf as usize) } else { None };
        let number = own.and_then(|own| own.number(at)).unwrap_or(at - first + 1);
        Some(Kept { packed, context, at: (shelf, at), number })
    }

    /// The readings that no section carries, those of tiles first.
    pub fn apart(&self) -> &[ApartCell] {
        &self.apart
    }

    /// Such readings one by one, in the order of the files.
    pub fn of_apart(&self, apart: &ApartCell) -> impl Iterator<Item = Reading<'_>> {
        self.of(&apart.cell)
    }

    /// The readings of a cell in the order of the files.
    pub fn of(&self, cell: &Cell) -> impl Iterator<Item = Reading<'_>> {
        self.rows(cell).map(|kept| self.reading(kept))
    }

    /// The first reading of each run of a cell that shares file, day, gauge, person and remark.
    ///
    /// Whoever asks for those needs no look at every reading.
    pub fn runs(&self, cell: &Cell) -> impl Iterator<Item = Reading<'_>> {
        let mut last = None;
        let runs = self.parts(cell).filter(move |(part, _)| last.replace(part.context) != Some(part.context));
        let shelf = cell.shelf;
        runs.filter_map(move |(part, first)| {
            let kept = self.kept(shelf, part, (part.rows.first()?, part.at), first)?;
            Some(self.reading(kept))
        })
    }

    /// How many readings share a gauge and a person, on sections or apart: both as the rows name them, and the count. Such a
    /// pair comes once for each day, file and remark that it goes with, in the order in which the files name them first.
    pub fn by_hand(&self) -> impl Iterator<Item = (Option<&str>, Option<&str>, usize)> {
        let word = |at: Option<u32>| self.words.get(at? as usize).map(String::as_str);
        let all = self.contexts.iter().zip(&self.context_rows);
        all.map(move |(context, &rows)| (word(context.gauge), word(context.by), rows))
    }

    /// The numbers of a cell that were taken and not left out, from the smallest.
    pub fn values(&self, cell: &Cell) -> Vec<f64> {
        let rows = self.parts(cell).flat_map(|(part, _)| part.rows);
        let mut values: Vec<f64> = rows.filter(|one| one.is_kept_number()).map(|one| one.value).collect();
        values.sort_unstable_by(f64::total_cmp);
        values
    }

    /// The numbers of a cell that were taken, left out or not.
    pub fn with_left_out(&self, cell: &Cell) -> Summary {
        if cell.left_out == 0 {
            return cell.kept;
        }
        let rows = self.parts(cell).flat_map(|(part, _)| part.rows);
        let taken = rows.filter(|one| one.kind == Kind::Taken);
        Summary::of(&taken.map(|one| one.value).collect::<Vec<f64>>())
    }

    /// The gauges that the rows of a cell name, each once, in order of their names.
    pub fn gauges(&self, cell: &Cell) -> Vec<&str> {
        self.distinct(cell, |reading| reading.gauge)
    }

    /// Who read a cell, each once, in order of their names.
    pub fn read_by(&self, cell: &Cell) -> Vec<&str> {
        self.distinct(cell, |reading| reading.by)
    }

    /// What rows of a cell remark, each once, in order of the texts.
    pub fn notes(&self, cell: &Cell) -> Vec<&str> {
        self.distinct(cell, |reading| reading.note)
    }

    /// Day of the first and of the last reading of a round; `None` without dated readings.
    pub fn dates(&self, round: RoundId) -> Option<(Date, Date)> {
        let dates = self.cells.iter().filter(|cell| cell.round == round).filter_map(|cell| cell.dates);
        dates.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Day of the last reading of all; the report bears it.
    pub fn last_date(&self) -> Option<Date> {
        self.cells.iter().filter_map(|cell| cell.dates).map(|(_, last)| last).max()
    }

    /// True if a number, or less than one, was read in a round.
    pub fn has_round(&self, round: RoundId) -> bool {
        self.cells.iter().any(|cell| cell.round == round && cell.taken + cell.below_gauge > 0)
    }

    /// True where no row of a file could be read, so that nothing can be said to be missing.
    pub fn has_unread_file(&self) -> bool {
        self.files.iter().any(|state| state.unread)
    }

    /// True where a reading of this cell may stand in a row that could not be placed, and a finding says why.
    pub fn may_be_refused(&self, section: SectionId, round: RoundId, measure: MeasureId) -> bool {
        // Rows that do not say which section are counted apart: one slip must not excuse a whole round.
        let first = Refused { section: Some(section), round: None, measure: None };
        let named = self.refused.range(first..).take_while(|(refused, _)| refused.section == Some(section));
        named.into_iter().any(|(refused, _)| {
            refused.round.is_none_or(|own| own == round) && refused.measure.is_none_or(|own| own == measure)
        })
    }

    /// How many rows of a round could not be placed because their section is not known.
    pub fn refused_sections(&self, round: RoundId) -> usize {
        let nameless = self.refused.iter().take_while(|(refused, _)| refused.section.is_none());
        let own = nameless.filter(|(refused, _)| refused.round.is_none_or(|own| own == round));
        own.map(|(_, &rows)| rows as usize).sum()
    }

    /// True where rows could not be placed that may belong to a round: they name it, or no round that is known.
    pub fn has_refused(&self, round: RoundId) -> bool {
        self.refused.keys().any(|refused| refused.round.is_none_or(|own| own == round))
    }

    fn distinct<'r>(&'r self, cell: &Cell, name: impl Fn(&Reading<'r>) -> Option<&'r str>) -> Vec<&'r str> {
        let mut names: Vec<&str> = self.runs(cell).filter_map(|reading| name(&reading)).collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    fn reading(&self, kept: Kept<'_>) -> Reading<'_> {
        let Kept { packed, context, at, number } = kept;
        let word = |at: Option<u32>| self.words.get(at? as usize).map(String::as_str);
        let statement = |at: At| {
            let found = self.left_out.binary_search_by_key(&at, |&(place, _)| place).ok()?;
            self.left_out.get(found).map(|&(_, statement)| statement as usize)
        };
        Reading {
            value: match packed.kind {
                Kind::Taken => Value::Taken(packed.value),
                Kind::BelowGauge => Value::BelowGauge(packed.value),
                Kind::NotTaken | Kind::Blank => Value::NotTaken,
            },
            number,
            numbered: packed.is(Packed::NUMBERED),
            place: self.place(kept),
            date: context.date,
            gauge: word(context.gauge),
            by: word(context.by),
            note: word(context.note),
            left_out: if packed.is(Packed::LEFT_OUT) { statement(at) } else { None },
        }
    }

    pub(super) fn place(&self, kept: Kept<'_>) -> Place {
        let state = self.files.get(kept.context.file as usize);
        Place { file: state.and_then(|state| state.file).unwrap_or_default(), span: kept.packed.span() }
    }
}

//! Reads the rows of one file: each reading is placed on its cell, or a fault says why not.

use super::build::{Builder, Own};
use super::faults::{Faults, Named, Wrong};
use super::header::Columns;
use super::model::{Context, FileState, Kind, Packed};
use super::names::Names;
use super::number::{self, Entry};
use super::recent::Recent;
use super::unit::{self, Turn};
use crate::study::{MeasureId, MeasureKind, RoundId, SectionId, Study};
use crate::table::{DayFault, Field, Row, Splitter, clock, day};
use crate::text::Span;
use crate::units::NumberFault;
use jiff::civil::Date;
use std::borrow::Cow;
use std::collections::BTreeSet;

/// The names of a study, with the spellings met so far.
#[derive(Debug, Clone)]
pub(super) struct Lists {
    pub(super) sections: Names,
    pub(super) rounds: Names,
    pub(super) measures: Names,
}

/// The day as of which files are read, and the cells of one file that later rows belong to: section, round, measure.
#[derive(Debug)]
pub(super) struct Later {
    pub(super) as_of: Option<Date>,
    pub(super) rows: BTreeSet<(u32, u32, u32)>,
}

/// What is the same for all parts of a file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Whole<'a> {
    pub(super) study: &'a Study,
    pub(super) text: &'a str,
    pub(super) columns: &'a Columns,
    pub(super) lists: &'a Lists,
    pub(super) as_of: Option<Date>,
    /// Place of the file in the study's list.
    pub(super) file: u32,
    pub(super) separator: u8,
}

/// What reading a part gives.
#[derive(Debug)]
pub(super) struct Part {
    pub(super) builder: Builder,
    pub(super) later: Later,
    pub(super) faults: Faults,
    pub(super) state: FileState,
    /// Every date could be read.
    pub(super) dates_sound: bool,
    /// Where the row after its last one begins; `None` where a quote was left open.
    pub(super) ends: Option<usize>,
}

impl Part {
    /// Adds what the next part gave.
    pub(super) fn absorb(&mut self, next: Self) {
        self.builder.absorb(next.builder);
        self.later.rows.extend(next.later.rows);
        self.faults.absorb(next.faults);
        self.state.rows += next.state.rows;
        self.state.refused += next.state.refused;
        self.state.waiting += next.state.waiting;
        self.state.later += next.state.later;
        self.dates_sound &= next.dates_sound;
        self.ends = next.ends;
    }
}

/// What a row says beside its values.
#[derive(Debug, Clone, Copy)]
struct Keys {
    cell: u32,
    measure: u32,
    round: u32,
    turn: Turn,
    context: u32,
    number: u32,
    /// No section carries it.
    apart: bool,
}

/// The row before, where its bytes up to the value and after it may come again.
#[derive(Debug, Clone, Copy)]
struct Same<'a> {
    before: &'a [u8],
    after: &'a [u8],
    keys: Keys,
}

/// Reads one part of a file.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    study: &'a Study,
    text: &'a str,
    columns: &'a Columns,
    lists: Lists,
    builder: Builder,
    later: Later,
    /// Place of the file in the study's list.
    file: u32,
    separator: u8,
    /// A comma parts decimals, as the separator is a semicolon.
    comma: bool,
    faults: Faults,
    state: FileState,
    sections: Recent<'a, u32>,
    rounds: Recent<'a, u32>,
    measures: Recent<'a, u32>,
    /// One for each measure.
    units: Vec<Recent<'a, Turn>>,
    days: Recent<'a, Date>,
    words: Recent<'a, u32>,
    dates_sound: bool,
}

impl<'a> Reader<'a> {
    /// A reader of a part, for which nothing was read yet.
    pub(super) fn new(whole: Whole<'a>) -> Self {
        let Whole { study, text, columns, lists, as_of, file, separator } = whole;
        Self {
            study,
            text,
            columns,
            lists: lists.clone(),
            builder: Builder::new(study),
            later: Later { as_of, rows: BTreeSet::new() },
            file,
            separator,
            comma: separator == b';',
            faults: Faults::default(),
            state: FileState { sheet: columns.is_sheet(), ..FileState::default() },
            sections: Recent::new(study.places().count()),
            rounds: Recent::new(study.rounds.len()),
            measures: Recent::new(study.measures.len()),
            units: study.measures.iter().map(|_| Recent::new(1)).collect(),
            days: Recent::new(64),
            words: Recent::new(64),
            dates_sound: true,
        }
    }

    /// Reads the rows that begin from one offset on and before another.
    pub(super) fn read(mut self, from: usize, to: usize) -> Part {
        self.builder.reserve(to.saturating_sub(from) / 48);
        let mut splitter = Splitter::new(self.text, self.separator);
        splitter.at = from;
        let mut fields = Vec::new();
        let mut same: Option<Same<'a>> = None;
        while splitter.at < to {
            if let Some(known) = &same
                && let Some(end) = self.repeat(known, splitter.at)
            {
                splitter.at = end;
                continue;
            }
            let Some(row) = splitter.next_row(&mut fields) else { break };
            same = self.row(row, &fields);
        }
        let Self { builder, later, faults, state, dates_sound, .. } = self;
        Part { builder, later, faults, state, dates_sound, ends: splitter.row_end() }
    }

    /// Takes a row that differs from the one before in a plain number only; gives the end of the row.
    ///
    /// Equal bytes up to the value leave the splitter in the same state, and equal bytes from the
    /// value to the line end read alike, so nothing but the number has to be looked at.
    fn repeat(&mut self, same: &Same<'a>, at: usize) -> Option<usize> {
        let rest = self.text.as_bytes().get(at..)?.strip_prefix(same.before)?;
        let digit = |byte: &u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'-');
        let length = rest.iter().position(|byte| !digit(byte))?;
        let (digits, tail) = rest.split_at(length);
        if !tail.starts_with(same.after) {
            return None;
        }
        let value = same.keys.turn.value(number::plain(digits)?);
        if !self.is_possible(same.keys.measure, value) {
            return None;
        }
        self.state.rows += 1;
        let start = at + same.before.len();
        self.place(same.keys, Kind::Taken, value, Span::new(start, start + length));
        Some(start + length + same.after.len())
    }

    /// Reads one row; gives what may come again.
    fn row(&mut self, row: Row, fields: &[Field]) -> Option<Same<'a>> {
        if fields.iter().all(|field| field.is_blank(self.text)) {
            return None;
        }
        self.state.rows += 1;
        let faults = self.faults.added;
        if !self.shape(row, fields) {
            self.refuse(fields);
            return None;
        }
        if self.is_later(fields) {
            self.state.later += 1;
            return None;
        }
        let keys = self.keys(fields);
        let read = self.values(fields, keys);
        match read {
            Some(0) if keys.is_some() => self.state.waiting += 1,
            Some(_) if keys.is_some() => {}
            _ => self.refuse(fields),
        }
        // With one value a line and nothing wrong, the next row may differ in that value only.
        let &[(0, at)] = self.columns.values.as_slice() else { return None };
        let value = fields.get(at).filter(|field| field.is_plain())?;
        if self.faults.added > faults || read != Some(1) || self.columns.number.is_some() {
            return None;
        }
        let (start, end) = value.bounds();
        let bytes = self.text.as_bytes();
        let after = bytes.get(end..row.end)?;
        let ends = matches!(after.last(), Some(b'\n' | b'\r'));
        if ends { Some(Same { before: bytes.get(row.start..start)?, after, keys: keys? }) } else { None }
    }

    /// Counts a row of which a reading could not be placed, with what it says of its place.
    fn refuse(&mut self, fields: &[Field]) {
        self.state.refused += 1;
        let [section, round, measure] =
            [self.columns.section, self.columns.round, self.columns.measure].map(|at| self.field(fields, at));
        let section = self.lists.sections.find(&section);
        let round = self.lists.rounds.find(&round);
        let measure =
            if self.columns.measure.is_none() { Some(0) } else { self.lists.measures.find(&measure) };
        self.builder.refuse(section, round, measure);
    }

    /// True if the row has the fields that it needs and no more than the header.
    fn shape(&mut self, row: Row, fields: &[Field]) -> bool {
        let whole = Span::new(row.start, row.end);
        if let Some(at) = row.open_quote {
            self.faults.add(Wrong::OpenQuote, "", Span::new(at, at + 1));
            return false;
        }
        let extra = fields.iter().skip(self.columns.width).find(|field| !field.is_blank(self.text));
        if let Some(extra) = extra {
            let wrong = Wrong::TooLong(fields.len(), self.columns.width);
            self.faults.add(wrong, "", extra.span(self.text));
            return false;
        }
        let value = if self.columns.is_sheet() { None } else { self.columns.values.first().map(|one| one.1) };
        let needed = [self.columns.round, self.columns.section, self.columns.measure, value];
        let least = needed.into_iter().flatten().max().map_or(0, |at| at + 1);
        if fields.len() < least {
            let line = self.text.get(whole.range()).unwrap_or("").trim_end();
            let span = Span::new(row.start, row.start + line.len());
            self.faults.add(Wrong::TooShort(fields.len(), least), "", span);
            return false;
        }
        true
    }

    /// True for a row of a later day than the one as of which the file is read; its cell is kept in mind.
    fn is_later(&mut self, fields: &[Field]) -> bool {
        let Some(as_of) = self.later.as_of else { return false };
        let (date, round) = (self.field(fields, self.columns.date), self.field(fields, self.columns.round));
        let round = self.lists.rounds.find(&round);
        let first = |round: u32| self.study.rounds.get(round as usize)?.window.map(|window| window.first);
        let day = if date.is_empty() { round.and_then(first) } else { day(&date).ok() };
        if day.is_none_or(|day| day <= as_of) {
            return false;
        }
        let section = self.lists.sections.find(&self.field(fields, self.columns.section));
        let measure = match self.columns.measure {
            None => Some(0),
            column => self.lists.measures.find(&self.field(fields, column)),
        };
        if let (Some(section), Some(round), Some(measure)) = (section, round, measure) {
            self.later.rows.insert((section, round, measure));
        }
        true
    }

    /// What the row says beside its values, if it could be placed.
    fn keys(&mut self, fields: &[Field]) -> Option<Keys> {
        let section = self.named(fields, self.columns.section, Named::Section);
        let round = self.named(fields, self.columns.round, Named::Round);
        let measure = match self.columns.measure {
            None => Some(0),
            column => self.named(fields, column, Named::Measure),
        };
        // On a patch a measure is that of its marker and cleaner.
        let measure = match (measure, section) {
            (Some(measure), Some(section)) if (section as usize) < Own::of(self.study).sections => {
                let (measure, section) = (MeasureId::new(measure as usize), SectionId::new(section as usize));
                u32::try_from(self.study.measure_at(measure, section).index()).ok()
            }
            _ => measure,
        };
        let turn = measure.and_then(|measure| self.turn(fields, measure));
        let date = self.date(fields);
        self.time(fields);
        let number = self.number(fields);
        let gauge = self.word(fields, self.columns.gauge);
        let by = self.word(fields, self.columns.by);
        let context = self.builder.context(Context { file: self.file, date, gauge, by });
        let (section, round, measure) = (section?, round?, measure?);
        let (turn, number) = (turn?, number?);
        let apart = self.is_apart(fields, (section, round, measure))?;
        let cell = self.builder.cell(section, round, measure);
        Some(Keys { cell, measure, round, turn, context, number, apart })
    }

    /// Whether no section carries the row; `None` where its place and its round do not go together.
    fn is_apart(&mut self, fields: &[Field], (section, round, measure): (u32, u32, u32)) -> Option<bool> {
        let own = Own::of(self.study);
        let (section, round) = (section as usize, round as usize);
        let step = round.checked_sub(own.rounds).and_then(|at| self.study.prep_readings().nth(at));
        let (wrong, column) = match step {
            None if section < own.sections => return Some(false),
            None if section == own.tile() => return Some(true),
            None => (Wrong::PanelAtRound, self.columns.section),
            Some(_) if section != own.panel() => (Wrong::PrepOffPanel, self.columns.section),
            Some(read) if read.index() == measure as usize => return Some(true),
            Some(_) => (Wrong::PrepOther(MeasureId::new(measure as usize)), self.columns.round),
        };
        let text = self.field(fields, column);
        self.fault(wrong, &text, fields, column);
        None
    }

    /// The text of a column of a row; blank where the row has no such field.
    fn field(&self, fields: &[Field], column: Option<usize>) -> Cow<'a, str> {
        column.and_then(|at| fields.get(at)).map_or(Cow::Borrowed(""), |field| field.text(self.text))
    }

    /// The place of a column of a row; that of the first field where the row has no such field.
    fn span(&self, fields: &[Field], column: Option<usize>) -> Span {
        let field = column.and_then(|at| fields.get(at)).or_else(|| fields.first());
        field.map_or(Span::default(), |field| field.span(self.text))
    }

    /// Adds a fault of a column of a row.
    fn fault(&mut self, wrong: Wrong, text: &str, fields: &[Field], column: Option<usize>) {
        let span = self.span(fields, column);
        self.faults.add_text(wrong, text, span);
    }

    fn named(&mut self, fields: &[Field], column: Option<usize>, named: Named) -> Option<u32> {
        let text = self.field(fields, column);
        let (names, recent) = match named {
            Named::Section => (&mut self.lists.sections, &mut self.sections),
            Named::Round => (&mut self.lists.rounds, &mut self.rounds),
            Named::Measure => (&mut self.lists.measures, &mut self.measures),
        };
        if let Some(id) = recent.get(&text) {
            return Some(id);
        }
        if text.is_empty() {
            self.fault(Wrong::Unnamed(named), "", fields, column);
            return None;
        }
        let id = names.find(&text);
        match (id, &text) {
            (Some(id), Cow::Borrowed(text)) => recent.put(text, id),
            (Some(_), Cow::Owned(_)) => {}
            (None, _) => self.fault(Wrong::Unknown(named), &text, fields, column),
        }
        id
    }

    /// How the values of the row become values in the unit of the measure.
    fn turn(&mut self, fields: &[Field], measure: u32) -> Option<Turn> {
        if self.columns.unit.is_none() {
            return Some(Turn::Same);
        }
        let text = self.field(fields, self.columns.unit);
        let recent = self.units.get_mut(measure as usize)?;
        if let Some(turn) = recent.get(&text) {
            return Some(turn);
        }
        let id = MeasureId::new(measure as usize);
        let turn = unit::turn(&text, &self.study.measures.get(id.index())?.unit);
        match (turn, &text) {
            (Some(turn), Cow::Borrowed(text)) => recent.put(text, turn),
            (Some(_), Cow::Owned(_)) => {}
            (None, _) => self.fault(Wrong::Unit(id), &text, fields, self.columns.unit),
        }
        turn
    }

    /// The day, if the row has one that can be taken. A reading without it is still placed.
    fn date(&mut self, fields: &[Field]) -> Option<Date> {
        let text = self.field(fields, self.columns.date);
        if text.is_empty() {
            return None;
        }
        if let Some(date) = self.days.get(&text) {
            return Some(date);
        }
        let wrong = match day(&text) {
            Ok(date) => {
                if let Cow::Borrowed(text) = text {
                    self.days.put(text, date);
                }
                return Some(date);
            }
            Err(DayFault::TwoWays(one, other)) => Wrong::TwoWays(one, other),
            Err(DayFault::Write(date)) => Wrong::Day(Some(date)),
            Err(DayFault::NoDay) => Wrong::Day(None),
        };
        self.dates_sound = false;
        self.fault(wrong, &text, fields, self.columns.date);
        None
    }

    /// Looks at the time of day, which places no reading and is read by people only.
    fn time(&mut self, fields: &[Field]) {
        let text = self.field(fields, self.columns.time);
        if !text.is_empty() && clock(&text).is_none() {
            self.fault(Wrong::Time, &text, fields, self.columns.time);
        }
    }

    /// The number of the reading, 0 where the file gives none, `None` where it cannot be read.
    fn number(&mut self, fields: &[Field]) -> Option<u32> {
        let text = self.field(fields, self.columns.number);
        if text.is_empty() {
            return Some(0);
        }
        let number = text.parse().ok().filter(|&number: &u32| number > 0);
        if number.is_none() {
            self.fault(Wrong::Counter, &text, fields, self.columns.number);
        }
        number
    }

    fn word(&mut self, fields: &[Field], column: Option<usize>) -> Option<u32> {
        let text = self.field(fields, column);
        if text.is_empty() {
            return None;
        }
        if let Some(id) = self.words.get(&text) {
            return Some(id);
        }
        let id = self.builder.word(&text);
        if text.contains('\u{fffd}') {
            self.fault(Wrong::Garbled, "", fields, column);
        } else if let Cow::Borrowed(text) = text {
            self.words.put(text, id);
        }
        Some(id)
    }

    /// Places the values of a row. Gives how many fields were filled in, or `None` where one could not be read.
    fn values(&mut self, fields: &[Field], keys: Option<Keys>) -> Option<usize> {
        let columns = self.columns;
        if let &[(0, at)] = columns.values.as_slice() {
            return self.value(fields, keys, 0, at).then_some(1);
        }
        let filled = |&&(_, at): &&(u32, usize)| fields.get(at).is_some_and(|one| !one.is_blank(self.text));
        let count = columns.values.iter().filter(filled).count();
        // A sheet is printed before the round; a line without any reading waits for it.
        if count == 0 {
            return Some(0);
        }
        let mut sound = true;
        for &(number, at) in &columns.values {
            sound &= self.value(fields, keys, number, at);
        }
        sound.then_some(count)
    }

    /// Places one value; false where it could not be read.
    fn value(&mut self, fields: &[Field], keys: Option<Keys>, number: u32, at: usize) -> bool {
        let text = self.field(fields, Some(at));
        let span = self.span(fields, Some(at));
        let entry = match number::entry(&text, self.comma) {
            Ok((entry, comma)) => {
                if comma {
                    self.faults.add_first(Wrong::CommaTaken, &text, span);
                }
                entry
            }
            Err(fault) => {
                if fault == NumberFault::Comma {
                    // One setting of a spreadsheet writes all of them.
                    self.faults.add_first(Wrong::Comma, &text, span);
                } else {
                    self.faults.add_text(Wrong::Number, &text, span);
                }
                return false;
            }
        };
        let Some(mut keys) = keys else { return true };
        if number > 0 {
            keys.number = number;
        }
        let (kind, value) = match entry {
            Entry::Taken(value) => (Kind::Taken, keys.turn.value(value)),
            Entry::Below(limit) => (Kind::BelowGauge, keys.turn.value(limit)),
            Entry::Blank if self.is_unused(keys, number) => return true,
            Entry::Blank => (Kind::Blank, 0.0),
            Entry::NotTaken => (Kind::NotTaken, 0.0),
        };
        if kind == Kind::Taken && !self.is_possible(keys.measure, value) {
            self.faults.add(Wrong::Range(MeasureId::new(keys.measure as usize)), &text, span);
            return false;
        }
        self.place(keys, kind, value, span);
        true
    }

    /// A sheet has a column for each reading of the measure that is read most often; the others leave some blank.
    fn is_unused(&self, keys: Keys, number: u32) -> bool {
        if keys.apart {
            return true;
        }
        let (round, measure) = (RoundId::new(keys.round as usize), MeasureId::new(keys.measure as usize));
        number > self.study.planned_readings(round, measure)
    }

    fn is_possible(&self, measure: u32, value: f64) -> bool {
        let measure = self.study.measures.get(measure as usize);
        if let Some(MeasureKind::Rating(scale)) = measure.map(|measure| &measure.kind) {
            return scale.has(value);
        }
        let possible = measure.and_then(|measure| measure.possible);
        value.is_finite() && possible.is_none_or(|(low, high)| (low..=high).contains(&value))
    }

    fn place(&mut self, keys: Keys, kind: Kind, value: f64, span: Span) {
        let reading = Packed {
            value,
            at: span.start,
            number: keys.number,
            context: keys.context,
            length: u16::try_from(span.end - span.start).unwrap_or(u16::MAX),
            kind,
            marks: if keys.number > 0 { Packed::NUMBERED } else { 0 },
        };
        self.builder.push(keys.cell, reading);
    }
}

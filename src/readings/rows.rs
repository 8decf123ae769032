//! Reads the rows of one file: each reading is placed on its cell, or a fault says why not.

use super::build::Builder;
use super::day::{DayFault, day};
use super::faults::{Faults, Named, Wrong};
use super::header::Columns;
use super::model::{Context, FileState, Kind, Packed};
use super::names::Names;
use super::number::{self, Entry};
use super::split::{Field, Row, Splitter};
use super::unit::{self, Turn};
use crate::study::{MeasureId, RoundId, Study};
use crate::text::Span;
use crate::units::NumberFault;
use jiff::civil::Date;
use std::borrow::Cow;

/// The names of a study, with the spellings met so far.
#[derive(Debug)]
pub(super) struct Lists<'a> {
    pub(super) sections: Names<'a>,
    pub(super) rounds: Names<'a>,
    pub(super) measures: Names<'a>,
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
}

/// A field's text and what it meant, so that a run of equal fields is looked up once.
#[derive(Debug, Clone, Copy)]
struct Last<'a, T> {
    text: &'a str,
    meant: Option<T>,
}

impl<T> Default for Last<'_, T> {
    fn default() -> Self {
        Self { text: "", meant: None }
    }
}

/// The row before, where its bytes up to the value and after it may come again.
#[derive(Debug, Clone, Copy)]
struct Same<'a> {
    before: &'a [u8],
    after: &'a [u8],
    keys: Keys,
}

/// Reads one file.
#[derive(Debug)]
pub(super) struct Reader<'a, 'b> {
    study: &'a Study,
    text: &'a str,
    columns: &'b Columns,
    lists: &'b mut Lists<'a>,
    builder: &'b mut Builder,
    /// Place of the file in the study's list.
    file: u32,
    /// A comma parts decimals, as the separator is a semicolon.
    comma: bool,
    pub(super) faults: Faults,
    pub(super) state: FileState,
    last_section: Last<'a, u32>,
    last_round: Last<'a, u32>,
    last_measure: Last<'a, u32>,
    last_unit: Last<'a, (u32, Turn)>,
    last_date: Last<'a, Date>,
    last_gauge: Last<'a, u32>,
    last_by: Last<'a, u32>,
    last_context: Option<(Context, u32)>,
    dates_sound: bool,
}

impl<'a, 'b> Reader<'a, 'b> {
    /// A reader of the file that stands at a place in the study's list.
    pub(super) fn new(
        (study, text): (&'a Study, &'a str),
        columns: &'b Columns,
        lists: &'b mut Lists<'a>,
        builder: &'b mut Builder,
        file: usize,
    ) -> Self {
        Self {
            study,
            text,
            columns,
            lists,
            builder,
            file: u32::try_from(file).unwrap_or(u32::MAX),
            comma: false,
            faults: Faults::default(),
            state: FileState { sheet: columns.is_sheet(), ..FileState::default() },
            last_section: Last::default(),
            last_round: Last::default(),
            last_measure: Last::default(),
            last_unit: Last::default(),
            last_date: Last::default(),
            last_gauge: Last::default(),
            last_by: Last::default(),
            last_context: None,
            dates_sound: true,
        }
    }

    /// Reads every row from an offset on.
    pub(super) fn read(&mut self, separator: u8, from: usize) {
        self.comma = separator == b';';
        let first = self.builder.len();
        self.builder.reserve(self.text.len().saturating_sub(from) / 48);
        let mut splitter = Splitter::new(self.text, separator);
        splitter.at = from;
        let mut fields = Vec::new();
        let mut same: Option<Same<'a>> = None;
        loop {
            if let Some(known) = &same
                && let Some(end) = self.repeat(known, splitter.at)
            {
                splitter.at = end;
                continue;
            }
            let Some(row) = splitter.next_row(&mut fields) else { break };
            same = self.row(row, &fields);
        }
        self.state.readings = self.builder.len() - first;
        // Where a date could not be read, that is what has to be mended first.
        if self.dates_sound
            && let Some((count, one)) = self.builder.undated_from(first)
        {
            self.faults.add_many(Wrong::Undated, one.span(), count);
        }
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
        if !self.shape(row, fields) {
            self.state.refused += 1;
            return None;
        }
        let (keys, sound) = self.keys(fields);
        let read = self.values(fields, keys);
        match read {
            Some(0) if keys.is_some() => self.state.waiting += 1,
            Some(_) if keys.is_some() => {}
            _ => self.state.refused += 1,
        }
        // With one value a line and nothing wrong, the next row may differ in that value only.
        let &[(0, at)] = self.columns.values.as_slice() else { return None };
        let value = fields.get(at).filter(|field| field.is_plain())?;
        if !sound || read != Some(1) || self.columns.number.is_some() {
            return None;
        }
        let (start, end) = value.bounds();
        let bytes = self.text.as_bytes();
        let after = bytes.get(end..row.end)?;
        let ends = matches!(after.last(), Some(b'\n' | b'\r'));
        if ends { Some(Same { before: bytes.get(row.start..start)?, after, keys: keys? }) } else { None }
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

    /// What the row says beside its values, if it could be placed, and whether nothing at all was wrong.
    fn keys(&mut self, fields: &[Field]) -> (Option<Keys>, bool) {
        let section = self.named(fields, self.columns.section, Named::Section);
        let round = self.named(fields, self.columns.round, Named::Round);
        let measure = match self.columns.measure {
            None => Some(0),
            column => self.named(fields, column, Named::Measure),
        };
        let turn = measure.and_then(|measure| self.turn(fields, measure));
        let (date, date_sound) = self.date(fields);
        let number = self.number(fields);
        let gauge = self.word(fields, self.columns.gauge, false);
        let by = self.word(fields, self.columns.by, true);
        let context = self.context(Context { file: self.file, date, gauge, by });
        let keys = match (section, round, measure, turn, number) {
            (Some(section), Some(round), Some(measure), Some(turn), Some(number)) => {
                let cell = self.builder.cell(section, round, measure);
                Some(Keys { cell, measure, round, turn, context, number })
            }
            _ => None,
        };
        (keys, keys.is_some() && date_sound)
    }

    /// Text and place of a column of a row; blank where the row has no such field.
    fn field(&self, fields: &[Field], column: Option<usize>) -> (Cow<'a, str>, Span) {
        let field = column.and_then(|at| fields.get(at)).or_else(|| fields.first());
        let inside = column.is_some_and(|at| at < fields.len());
        field.map_or((Cow::Borrowed(""), Span::default()), |field| {
            (if inside { field.text(self.text) } else { Cow::Borrowed("") }, field.span(self.text))
        })
    }

    fn named(&mut self, fields: &[Field], column: Option<usize>, named: Named) -> Option<u32> {
        let (text, span) = self.field(fields, column);
        let (names, last) = match named {
            Named::Section => (&mut self.lists.sections, &mut self.last_section),
            Named::Round => (&mut self.lists.rounds, &mut self.last_round),
            Named::Measure => (&mut self.lists.measures, &mut self.last_measure),
        };
        if last.meant.is_some() && last.text == text {
            return last.meant;
        }
        if text.is_empty() {
            self.faults.add(Wrong::Unnamed(named), "", span);
            return None;
        }
        let id = names.find(&text);
        match (id, &text) {
            (Some(_), Cow::Borrowed(text)) => *last = Last { text, meant: id },
            (Some(_), Cow::Owned(_)) => {}
            (None, _) => self.faults.add_text(Wrong::Unknown(named), &text, span),
        }
        id
    }

    /// How the values of the row become values in the unit of the measure.
    fn turn(&mut self, fields: &[Field], measure: u32) -> Option<Turn> {
        if self.columns.unit.is_none() {
            return Some(Turn::Same);
        }
        let (text, span) = self.field(fields, self.columns.unit);
        if let Some((of, turn)) = self.last_unit.meant
            && of == measure
            && self.last_unit.text == text
        {
            return Some(turn);
        }
        let id = MeasureId::new(measure as usize);
        let turn = unit::turn(&text, &self.study.measures.get(id.index())?.unit);
        match (turn, &text) {
            (Some(turn), Cow::Borrowed(text)) => {
                self.last_unit = Last { text, meant: Some((measure, turn)) };
            }
            (Some(_), Cow::Owned(_)) => {}
            (None, _) => self.faults.add_text(Wrong::Unit(id), &text, span),
        }
        turn
    }

    /// The day, and false where the row has one that cannot be taken.
    fn date(&mut self, fields: &[Field]) -> (Option<Date>, bool) {
        let (text, span) = self.field(fields, self.columns.date);
        if text.is_empty() {
            return (None, true);
        }
        if self.last_date.meant.is_some() && self.last_date.text == text {
            return (self.last_date.meant, true);
        }
        let wrong = match day(&text) {
            Ok(date) => {
                if let Cow::Borrowed(text) = text {
                    self.last_date = Last { text, meant: Some(date) };
                }
                return (Some(date), true);
            }
            Err(DayFault::TwoWays(one, other)) => Wrong::TwoWays(one, other),
            Err(DayFault::Write(date)) => Wrong::Day(Some(date)),
            Err(DayFault::NoDay) => Wrong::Day(None),
        };
        self.dates_sound = false;
        self.faults.add_text(wrong, &text, span);
        (None, false)
    }

    /// The number of the reading, 0 where the file gives none, `None` where it cannot be read.
    fn number(&mut self, fields: &[Field]) -> Option<u32> {
        let (text, span) = self.field(fields, self.columns.number);
        if text.is_empty() {
            return Some(0);
        }
        let number = text.parse().ok().filter(|&number: &u32| number > 0);
        if number.is_none() {
            self.faults.add_text(Wrong::Counter, &text, span);
        }
        number
    }

    fn word(&mut self, fields: &[Field], column: Option<usize>, by: bool) -> Option<u32> {
        let (text, span) = self.field(fields, column);
        if text.is_empty() {
            return None;
        }
        let last = if by { &mut self.last_by } else { &mut self.last_gauge };
        if last.meant.is_some() && last.text == text {
            return last.meant;
        }
        let id = Some(self.builder.word(&text));
        if text.contains('\u{fffd}') {
            self.faults.add(Wrong::Garbled, "", span);
        } else if let Cow::Borrowed(text) = text {
            *last = Last { text, meant: id };
        }
        id
    }

    fn context(&mut self, context: Context) -> u32 {
        match self.last_context {
            Some((known, id)) if known == context => id,
            _ => {
                let id = self.builder.context(context);
                self.last_context = Some((context, id));
                id
            }
        }
    }

    /// Places the values of a row. Gives how many fields were filled in, or `None` where one could not be read.
    fn values(&mut self, fields: &[Field], keys: Option<Keys>) -> Option<usize> {
        let columns = self.columns;
        let filled = |&&(_, at): &&(u32, usize)| fields.get(at).is_some_and(|one| !one.is_blank(self.text));
        let count = columns.values.iter().filter(filled).count();
        // A sheet is printed before the round; a line without any reading waits for it.
        if columns.is_sheet() && count == 0 {
            return Some(0);
        }
        let mut sound = true;
        for &(number, at) in &columns.values {
            sound &= self.value(fields, keys, number, at);
        }
        if sound { Some(count.max(1)) } else { None }
    }

    /// Places one value; false where it could not be read.
    fn value(&mut self, fields: &[Field], keys: Option<Keys>, number: u32, at: usize) -> bool {
        let (text, span) = self.field(fields, Some(at));
        let entry = match number::entry(&text, self.comma) {
            Ok((entry, comma)) => {
                if comma {
                    self.faults.add(Wrong::CommaTaken, "", span);
                }
                entry
            }
            Err(fault) => {
                let wrong = if fault == NumberFault::Comma { Wrong::Comma } else { Wrong::Number };
                self.faults.add_text(wrong, &text, span);
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
            Entry::NotTaken => (Kind::NotTaken, 0.0),
            Entry::Blank if self.is_unused(keys, number) => return true,
            Entry::Blank => (Kind::NotTaken, 0.0),
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
        let (round, measure) = (RoundId::new(keys.round as usize), MeasureId::new(keys.measure as usize));
        number > self.study.planned_readings(round, measure)
    }

    fn is_possible(&self, measure: u32, value: f64) -> bool {
        let possible = self.study.measures.get(measure as usize).and_then(|measure| measure.possible);
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

//! Reads the rows of one file: each reading is placed on its cell, or a fault says why not.

mod again;
mod known;

use super::faults::{Faults, Named, Wrong};
use super::header::Columns;
use super::line::{Ends, Line};
use super::model::{Context, FileState};
use super::names::Names;
use super::number::{self, Entry};
use super::recent::Recent;
use super::shelf::{Kind, Packed};
use super::stage::{Own, Pending, Said, Shape, Stage};
use super::unit::{self, Measured, Turn};
use crate::study::{MeasureId, RoundId, SectionId, Study};
use crate::table::{Field, Splitter, clock, day};
use crate::text::Span;
use crate::units::NumberFault;
use again::Same;
use jiff::civil::Date;
use known::Known;
use std::borrow::Cow;
use std::collections::BTreeSet;

/// The names of a study, with the spellings met so far.
#[derive(Debug, Clone)]
pub(super) struct Lists {
    pub(super) sections: Names,
    pub(super) rounds: Names,
    pub(super) measures: Names,
}

/// What is the same for all pieces of a file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Whole<'a> {
    pub(super) study: &'a Study,
    pub(super) columns: &'a Columns,
    pub(super) lists: &'a Lists,
    /// The day as of which the file is read.
    pub(super) as_of: Option<Date>,
    pub(super) separator: u8,
    pub(super) shape: Shape,
}

/// A piece of a file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece<'p> {
    /// Its place among the pieces.
    pub(super) number: u32,
    /// Its rows.
    pub(super) bytes: &'p [u8],
    /// Where it begins in the text of the file.
    pub(super) base: usize,
}

/// What reading a file gives.
#[derive(Debug, Default)]
pub(super) struct Part {
    pub(super) stages: Vec<Stage>,
    /// The cells that rows of later days belong to: section, round, measure.
    pub(super) later: BTreeSet<(u32, u32, u32)>,
    pub(super) faults: Faults,
    pub(super) state: FileState,
    /// Readings without a date: how many, and the first.
    pub(super) undated: Option<(usize, Span)>,
    /// A date could not be read.
    pub(super) bad_dates: bool,
}

/// What a row says beside its values.
#[derive(Debug, Clone, Copy)]
struct Keys {
    cell: usize,
    context: u32,
    measure: u32,
    round: u32,
    turn: Turn,
    number: u32,
    dated: bool,
    /// No section carries it.
    apart: bool,
}

/// Reads pieces of a file, one after another.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    study: &'a Study,
    columns: &'a Columns,
    lists: Lists,
    pub(super) stage: Stage,
    as_of: Option<Date>,
    later: BTreeSet<(u32, u32, u32)>,
    separator: u8,
    /// A comma parts decimals, as the separator is a semicolon.
    comma: bool,
    /// Those of the present piece.
    faults: Faults,
    /// Those of each piece that has some.
    found: Vec<(u32, Faults)>,
    state: FileState,
    sections: Recent<u32>,
    rounds: Recent<u32>,
    measures: Recent<u32>,
    /// One for each measure.
    units: Vec<Recent<Turn>>,
    days: Recent<Date>,
    words: Recent<u32>,
    known: Known,
    /// A measure has parts, each read on patches of its own.
    parted: bool,
    undated: Option<(usize, Span)>,
    bad_dates: bool,
}

impl<'a> Reader<'a> {
    /// A reader for which nothing was read yet.
    pub(super) fn new(whole: Whole<'a>) -> Self {
        let Whole { study, columns, lists, as_of, separator, shape } = whole;
        let parted = study.measures.iter().any(|measure| measure.of.is_some());
        // Which rows are of later days, and which measure a patch carries, is looked up row by row.
        let plain = as_of.is_none() && !parted;
        Self {
            study,
            columns,
            lists: lists.clone(),
            stage: Stage::new(shape),
            as_of,
            later: BTreeSet::new(),
            separator,
            comma: separator == b';',
            faults: Faults::default(),
            found: Vec::new(),
            state: FileState { sheet: columns.is_sheet(), ..FileState::default() },
            sections: Recent::new(study.places().count(), 0),
            rounds: Recent::new(study.rounds.len(), 0),
            measures: Recent::new(study.measures.len(), 0),
            units: study.measures.iter().map(|_| Recent::new(1, Turn::Same)).collect(),
            days: Recent::new(64, Date::ZERO),
            words: Recent::new(64, 0),
            known: if plain { Known::of(columns, study.measures.len()) } else { Known::default() },
            parted,
            undated: None,
            bad_dates: false,
        }
    }

    /// Reads the rows of a piece.
    pub(super) fn read(&mut self, piece: Piece<'_>) -> Ends {
        let mut splitter = Splitter::over(piece.bytes, self.separator);
        let mut fields: Vec<Field> = Vec::new();
        let mut same: Option<Same<'_>> = None;
        while splitter.at < piece.bytes.len() {
            if let Some(known) = &mut same
                && let Some(end) = self.repeat(known, piece, splitter.at)
            {
                splitter.at = end;
                continue;
            }
            if let Some((found, end)) = self.known(piece, &splitter) {
                same = Some(found);
                splitter.at = end;
                continue;
            }
            let Some(row) = splitter.next_row(&mut fields) else { break };
            let bytes = piece.bytes.get(row.start..row.end).unwrap_or_default();
            let Ok(text) = std::str::from_utf8(bytes) else { return Ends::NoText };
            for field in &mut fields {
                *field = field.counted_from(row.start);
            }
            let line = Line { text, base: piece.base + row.start, fields: &fields };
            let keys = self.row(line, row.open_quote.map(|at| piece.base + at));
            same = keys.and_then(|keys| self.same(line, keys, bytes));
            if let Some(same) = &same {
                self.remember(same);
            }
        }
        self.stage.end_piece(piece.number);
        if self.faults.added > 0 {
            self.found.push((piece.number, std::mem::take(&mut self.faults)));
        }
        if splitter.row_end().is_some() { Ends::Row } else { Ends::Open }
    }

    /// Adds what was read to what others read of the same file; gives the faults of its pieces.
    pub(super) fn finish(self, part: &mut Part) -> Vec<(u32, Faults)> {
        part.later.extend(self.later);
        part.state.sheet = self.state.sheet;
        part.state.rows += self.state.rows;
        part.state.refused += self.state.refused;
        part.state.waiting += self.state.waiting;
        part.state.later += self.state.later;
        part.state.readings += self.stage.piles.iter().map(|pile| pile.rows.len()).sum::<usize>();
        part.bad_dates |= self.bad_dates;
        part.stages.push(self.stage);
        if let Some((count, first)) = self.undated {
            let known = part.undated.get_or_insert((0, first));
            *known = (known.0 + count, known.1.min(first));
        }
        self.found
    }

    /// Reads one row; gives its keys where nothing is wrong and the next one may repeat it.
    fn row(&mut self, line: Line<'_>, open_quote: Option<usize>) -> Option<Keys> {
        if line.is_blank() {
            return None;
        }
        self.state.rows += 1;
        let faults = self.faults.added;
        if !self.shape(line, open_quote) {
            self.refuse(line);
            return None;
        }
        if self.is_later(line) {
            self.state.later += 1;
            return None;
        }
        if self.is_nowhere(line) {
            self.faults.add(Wrong::Nowhere, "", line.whole());
            self.refuse(line);
            return None;
        }
        let keys = self.keys(line);
        let read = self.values(line, keys);
        match read {
            Some(0) if keys.is_some() => self.state.waiting += 1,
            Some(_) if keys.is_some() => {}
            _ => self.refuse(line),
        }
        keys.filter(|_| self.faults.added == faults && read == Some(1))
    }

    /// True for a row that names nothing of the study and leaves one of its places blank, as a mean below the readings does.
    fn is_nowhere(&mut self, line: Line<'_>) -> bool {
        let Columns { section, round, measure, .. } = *self.columns;
        let blank = |at: Option<usize>| at.is_some_and(|at| !line.has(at));
        if !blank(section) && !blank(round) {
            return false;
        }
        let own = [
            self.lists.sections.find(&line.field(section)),
            self.lists.rounds.find(&line.field(round)),
            measure.and_then(|_| self.lists.measures.find(&line.field(measure))),
        ];
        own.iter().all(Option::is_none)
    }

    /// Counts a row of which a reading could not be placed, with what it says of its place.
    fn refuse(&mut self, line: Line<'_>) {
        self.state.refused += 1;
        let [section, round, measure] =
            [self.columns.section, self.columns.round, self.columns.measure].map(|at| line.field(at));
        let section = self.lists.sections.find(&section);
        let round = self.lists.rounds.find(&round);
        let measure =
            if self.columns.measure.is_none() { Some(0) } else { self.lists.measures.find(&measure) };
        self.stage.refuse(section, round, measure);
    }

    /// True if the row has the fields that it needs and no more than the header.
    fn shape(&mut self, line: Line<'_>, open_quote: Option<usize>) -> bool {
        if let Some(at) = open_quote {
            self.faults.add(Wrong::OpenQuote, "", Span::new(at, at + 1));
            return false;
        }
        let fields = line.fields;
        let extra = fields.iter().skip(self.columns.width).find(|field| !field.is_blank(line.text));
        if let Some(extra) = extra {
            let wrong = Wrong::TooLong(fields.len(), self.columns.width);
            self.faults.add(wrong, "", line.span_of(extra));
            return false;
        }
        let value = if self.columns.is_sheet() { None } else { self.columns.values.first().map(|one| one.1) };
        let needed = [self.columns.round, self.columns.section, self.columns.measure, value];
        let least = needed.into_iter().flatten().max().map_or(0, |at| at + 1);
        if fields.len() < least {
            self.faults.add(Wrong::TooShort(fields.len(), least), "", line.whole());
            return false;
        }
        true
    }

    /// True for a row of a later day than the one as of which the file is read; its cell is kept in mind.
    fn is_later(&mut self, line: Line<'_>) -> bool {
        let Some(as_of) = self.as_of else { return false };
        let (date, round) = (line.field(self.columns.date), line.field(self.columns.round));
        let round = self.lists.rounds.find(&round);
        let first = |round: u32| self.study.rounds.get(round as usize)?.window.map(|window| window.first);
        let day = if date.is_empty() { round.and_then(first) } else { day(&date).ok() };
        if day.is_none_or(|day| day <= as_of) {
            return false;
        }
        let section = self.lists.sections.find(&line.field(self.columns.section));
        let measure = match self.columns.measure {
            None => Some(0),
            column => self.lists.measures.find(&line.field(column)),
        };
        if let (Some(section), Some(round), Some(measure)) = (section, round, measure) {
            self.later.insert((section, round, measure));
        }
        true
    }

    /// What the row says beside its values, if it could be placed.
    fn keys(&mut self, line: Line<'_>) -> Option<Keys> {
        let section = self.named(line, self.columns.section, Named::Section);
        let round = self.named(line, self.columns.round, Named::Round);
        let measure = match self.columns.measure {
            None => Some(0),
            column => self.named(line, column, Named::Measure),
        };
        // On a patch a measure is that of its marker and cleaner.
        let measure = match (measure, section) {
            (Some(measure), Some(section))
                if self.parted && (section as usize) < Own::of(self.study).sections =>
            {
                let (measure, section) = (MeasureId::new(measure as usize), SectionId::new(section as usize));
                u32::try_from(self.study.measure_at(measure, section).index()).ok()
            }
            _ => measure,
        };
        let turn = measure.and_then(|measure| self.turn(line, measure));
        let date = self.date(line);
        self.time(line);
        let number = self.number(line);
        let gauge = self.word(line, self.columns.gauge);
        let by = self.word(line, self.columns.by);
        let note = self.note(line);
        let context = self.stage.context(Context { file: 0, date, gauge, by, note }, line.base);
        let (section, round, measure) = (section?, round?, measure?);
        let (turn, number) = (turn?, number?);
        let apart = self.is_apart(line, (section, round, measure))?;
        let cell = self.stage.key(section, round, measure);
        Some(Keys { cell, context, measure, round, turn, number, dated: date.is_some(), apart })
    }

    /// Whether no section carries the row; `None` where its place and its round do not go together.
    fn is_apart(&mut self, line: Line<'_>, (section, round, measure): (u32, u32, u32)) -> Option<bool> {
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
        let text = line.field(column);
        self.fault(wrong, &text, line, column);
        None
    }

    /// Adds a fault of a column of a row.
    fn fault(&mut self, wrong: Wrong, text: &str, line: Line<'_>, column: Option<usize>) {
        let span = line.span(column);
        self.faults.add_text(wrong, text, span);
    }

    fn named(&mut self, line: Line<'_>, column: Option<usize>, named: Named) -> Option<u32> {
        let text = line.field(column);
        let (names, recent) = match named {
            Named::Section => (&mut self.lists.sections, &mut self.sections),
            Named::Round => (&mut self.lists.rounds, &mut self.rounds),
            Named::Measure => (&mut self.lists.measures, &mut self.measures),
        };
        if let Some(id) = recent.get(text.as_bytes()) {
            return Some(id);
        }
        if text.is_empty() {
            self.fault(Wrong::Unnamed(named), "", line, column);
            return None;
        }
        let id = names.find(&text);
        match id {
            Some(id) => recent.put(text.as_bytes(), id),
            None => self.fault(Wrong::Unknown(named), &text, line, column),
        }
        id
    }

    /// How the values of the row become values in the unit of the measure.
    fn turn(&mut self, line: Line<'_>, measure: u32) -> Option<Turn> {
        let (text, span) = match (self.columns.unit, &self.columns.said) {
            (None, None) => return Some(Turn::Same),
            (None, Some((said, span))) => (Cow::Borrowed(said.as_str()), *span),
            (column, _) => (line.field(column), line.span(column)),
        };
        let recent = self.units.get_mut(measure as usize)?;
        if let Some(turn) = recent.get(text.as_bytes()) {
            return Some(turn);
        }
        let id = MeasureId::new(measure as usize);
        let turn = unit::turn(&text, &self.study.measures.get(id.index())?.unit);
        match turn {
            Some(turn) => recent.put(text.as_bytes(), turn),
            None => self.faults.add_text(Wrong::Unit(id), &text, span),
        }
        turn
    }

    /// `30,8 deg`: a number with its unit behind it.
    fn with_unit(&self, text: &str, line: Line<'_>, measure: u32) -> Option<Measured> {
        let row = match &self.columns.said {
            Some((said, _)) => Cow::Borrowed(said.as_str()),
            None => line.field(self.columns.unit),
        };
        let id = MeasureId::new(measure as usize);
        unit::measured(text, self.comma, (id, self.study.measures.get(id.index())?), &row)
    }

    /// The day, if the row has one that can be taken. A reading without it is still placed.
    fn date(&mut self, line: Line<'_>) -> Option<Date> {
        let text = line.field(self.columns.date);
        if text.is_empty() {
            return None;
        }
        if let Some(date) = self.days.get(text.as_bytes()) {
            return Some(date);
        }
        let wrong = match day(&text) {
            Ok(date) => {
                self.days.put(text.as_bytes(), date);
                return Some(date);
            }
            Err(fault) => Wrong::from(fault),
        };
        self.bad_dates = true;
        self.fault(wrong, &text, line, self.columns.date);
        None
    }

    /// Looks at the time of day, which places no reading and is read by people only.
    fn time(&mut self, line: Line<'_>) {
        let text = line.field(self.columns.time);
        if !text.is_empty() && clock(&text).is_none() {
            self.fault(Wrong::Time, &text, line, self.columns.time);
        }
    }

    /// The number of the reading, 0 where the file gives none, `None` where it cannot be read.
    fn number(&mut self, line: Line<'_>) -> Option<u32> {
        let text = line.field(self.columns.number);
        if text.is_empty() {
            return Some(0);
        }
        let number = text.parse().ok().filter(|&number: &u32| number > 0);
        if number.is_none() {
            self.fault(Wrong::Counter, &text, line, self.columns.number);
        }
        number
    }

    fn word(&mut self, line: Line<'_>, column: Option<usize>) -> Option<u32> {
        let text = line.field(column);
        if text.is_empty() {
            return None;
        }
        if let Some(id) = self.words.get(text.as_bytes()) {
            return Some(id);
        }
        let id = self.stage.word(&text, Said::Name, line.base);
        if text.contains('\u{fffd}') {
            self.fault(Wrong::Garbled, "", line, column);
        } else {
            self.words.put(text.as_bytes(), id);
        }
        Some(id)
    }

    /// What the row remarks, in all its columns of remarks.
    fn note(&mut self, line: Line<'_>) -> Option<u32> {
        let columns = self.columns;
        if columns.notes.is_empty() {
            return None;
        }
        let texts: Vec<_> = columns.notes.iter().map(|&at| line.field(Some(at))).collect();
        let told: Vec<&str> = texts.iter().map(|text| &**text).filter(|text| !text.is_empty()).collect();
        let text = told.join("; ");
        (!text.is_empty()).then(|| self.stage.word(&text, Said::Note, line.base))
    }

    /// Places the values of a row. Gives how many fields were filled in, or `None` where one could not be read.
    fn values(&mut self, line: Line<'_>, keys: Option<Keys>) -> Option<usize> {
        let columns = self.columns;
        if let &[(0, at)] = columns.values.as_slice() {
            return self.value(line, keys, 0, at).then_some(1);
        }
        let filled = |&&(_, at): &&(u32, usize)| line.has(at);
        let count = columns.values.iter().filter(filled).count();
        // A sheet is printed before the round; a line without any reading waits for it.
        if count == 0 {
            return Some(0);
        }
        let mut sound = true;
        for &(number, at) in &columns.values {
            sound &= self.value(line, keys, number, at);
        }
        sound.then_some(count)
    }

    /// Places one value; false where it could not be read.
    fn value(&mut self, line: Line<'_>, keys: Option<Keys>, number: u32, at: usize) -> bool {
        let text = line.field(Some(at));
        let span = line.span(Some(at));
        let entry = match number::entry(&text, self.comma) {
            Ok(entry) => Ok((entry, None)),
            Err(fault) => match keys.and_then(|keys| self.with_unit(&text, line, keys.measure)) {
                Some(Measured::Taken(entry, turn)) => Ok((entry, Some(turn))),
                Some(Measured::Other(id, word)) => {
                    self.faults.add(Wrong::Unit(id), &word, span);
                    return false;
                }
                None => Err(fault),
            },
        };
        let (entry, turn) = match entry {
            Ok(((entry, comma), turn)) => {
                if comma {
                    self.faults.add_first(Wrong::CommaTaken, &text, span);
                }
                (entry, turn)
            }
            Err(fault) => {
                let marks = text.bytes().filter(|byte| matches!(byte, b'.' | b',')).count();
                match fault {
                    NumberFault::Comma if marks > 1 => self.faults.add(Wrong::Thousands, &text, span),
                    // One setting of a spreadsheet writes all of them.
                    NumberFault::Comma => self.faults.add_first(Wrong::Comma, &text, span),
                    NumberFault::NotANumber => self.faults.add_text(Wrong::Number, &text, span),
                }
                return false;
            }
        };
        let Some(mut keys) = keys else { return true };
        keys.turn = turn.unwrap_or(keys.turn);
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
        if kind == Kind::Taken && !unit::is_possible(self.study, keys.measure, value) {
            self.faults.add(Wrong::Range(MeasureId::new(keys.measure as usize)), &text, span);
            return false;
        }
        let reading = self.reading(keys, kind, value, span);
        self.put(keys, reading);
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

    fn put(&mut self, keys: Keys, reading: Packed) {
        let Keys { cell: key, context, number, .. } = keys;
        self.stage.put(Pending { key, context, number, reading });
    }

    /// A value as it is kept.
    fn reading(&mut self, keys: Keys, kind: Kind, value: f64, span: Span) -> Packed {
        let reading = Packed {
            value,
            at: span.start,
            length: u16::try_from(span.end - span.start).unwrap_or(u16::MAX),
            kind,
            marks: if keys.number > 0 { Packed::NUMBERED } else { 0 },
        };
        if !keys.dated && matches!(kind, Kind::Taken | Kind::BelowGauge) {
            let known = self.undated.get_or_insert((0, reading.span()));
            known.0 += 1;
        }
        reading
    }
}

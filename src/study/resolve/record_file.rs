//! Record files: each row is read as a `done` line is, and whatever is wrong with it is told at its field.

use super::Resolver;
use crate::diag::{Finding, Place, count, list, nearest};
use crate::speech::say;
use crate::study::{ClimateColumn, Done, RecordColumn, RecordFile};
use crate::syntax::{Block, Clause, Num, Quantity, Statement, Value};
use crate::table::{self, Field, Header, Splitter, Unknown, extra, folded, shown, word_and_unit};
use crate::text::{FileId, Located, Span};
use jiff::civil::{Date, Time as ClockTime};
use std::borrow::Cow;

/// A record file as it lies on the disk.
#[derive(Debug, Clone, Copy)]
pub struct RecordInput<'a> {
    /// Its place among the inputs of the run.
    pub file: FileId,
    /// Its bytes.
    pub bytes: &'a [u8],
}

/// Every heading that is known, the word of the checklist first.
const WORDS: [(RecordColumn, &[&str]); 13] = [
    (RecordColumn::Step, &["step", "no", "nr", "number", "step number"]),
    (RecordColumn::What, &["what", "done", "work"]),
    (RecordColumn::Round, &["before round", "round"]),
    (RecordColumn::Section, &["section", "sections", "on", "where"]),
    (RecordColumn::Date, &["date", "day"]),
    (RecordColumn::Time, &["time", "laid on at", "on at", "first at", "start", "began", "from"]),
    (
        RecordColumn::Until,
        &["taken off at", "off at", "wiped off at", "last at", "end", "ended", "until", "to"],
    ),
    (RecordColumn::Used, &["used", "amount"]),
    (RecordColumn::Air, &["air", "air temperature", "temperature", "temp"]),
    (RecordColumn::Humidity, &["humidity", "relative humidity", "rh"]),
    (RecordColumn::Surface, &["surface", "surface temperature"]),
    (RecordColumn::By, &["initials", "by", "who"]),
    (RecordColumn::Note, &["note", "notes", "remark", "because"]),
];

/// What stands in the place of a value that there is none of.
const NONE: [&str; 5] = ["-", "--", "\u{2013}", "\u{2014}", "n/a"];

const EXAMPLE: &str = "begin the file with a header, as \
    `step,what,section,date,time,taken off at,used ml,air degC,humidity %,surface degC,initials,note`";

/// A column of the file.
struct Heading {
    text: String,
    span: Span,
    column: Option<RecordColumn>,
    unit: Option<String>,
}

/// One row: what stands in it, and the columns that say what each field is.
pub(super) struct Row<'a> {
    text: &'a str,
    headings: &'a [Heading],
    fields: &'a [Field],
    /// What parts the fields; where it is a semicolon, a comma parts decimals.
    separator: char,
    pub(super) span: Span,
}

impl<'a> Row<'a> {
    /// What stands in a column; `None` where nothing does.
    pub(super) fn get(&self, column: RecordColumn) -> Option<Located<Cow<'a, str>>> {
        let at = self.headings.iter().position(|heading| heading.column == Some(column))?;
        let field = self.fields.get(at)?;
        let value = field.text(self.text);
        let none = value.is_empty() || NONE.contains(&value.as_ref());
        (!none).then(|| Located::new(value, field.span(self.text)))
    }

    /// Words for another separator that the row has more of than of the file's own, and for that.
    fn parted_otherwise(&self) -> Option<(&'static str, &'static str)> {
        let line = self.text.get(self.span.range()).unwrap_or_default();
        let number = |sign: char| line.chars().filter(|&one| one == sign).count();
        let signs = [(';', "semicolons"), (',', "commas"), ('\t', "tabs")];
        let (own, others): (Vec<_>, Vec<_>) =
            signs.into_iter().partition(|&(sign, _)| sign == self.separator);
        let (own, other) = (own.first()?, others.iter().max_by_key(|&&(sign, _)| number(sign))?);
        (number(other.0) > number(own.0)).then_some((other.1, own.1))
    }

    fn has_any(&self, columns: &[RecordColumn]) -> bool {
        columns.iter().any(|&column| self.get(column).is_some())
    }
}

impl Resolver<'_> {
    pub(super) fn record_file(&mut self, block: &Block) {
        let Some(name) = block.head.as_ref().and_then(crate::syntax::Args::text) else { return };
        let input = self.inputs.get(self.study.records.len()).copied().flatten();
        let columns = block.children.iter().filter_map(super::climate::climate_column).collect();
        let file = input.map(|input| input.file);
        let mut file = RecordFile { name: name.map(str::to_owned), columns, file, broken: block.broken };
        if let Some(input) = input {
            self.file = input.file;
            let before = self.mark();
            self.rows(&file, input);
            file.broken |= self.failed_since(before);
            self.file = FileId::STUDY;
        }
        self.study.records.push(file);
    }

    fn rows(&mut self, declared: &RecordFile, input: RecordInput<'_>) {
        let text = match table::text(input.file, input.bytes) {
            Ok(text) => text,
            Err(finding) => return self.findings.push(*finding),
        };
        let Some(header) = table::header(text) else {
            return self.findings.push(table::empty(input.file, "record", "what,date,time,initials,note"));
        };
        let Some(headings) = self.headings(declared, (input.file, text), &header) else { return };
        let mut splitter = Splitter::new(text, header.separator);
        splitter.at = header.row.end;
        let first = self.findings.len();
        let mut fields = Vec::new();
        while let Some(row) = splitter.next_row(&mut fields) {
            let end = row.start + text[row.start..row.end].trim_end().len();
            let span = Span::new(row.start, end);
            if let Some(at) = row.open_quote {
                self.tell(open_quote(Span::new(at, at + 1)));
                continue;
            }
            let width = headings.iter().rposition(|one| !one.text.is_empty()).map_or(0, |at| at + 1);
            if let Some(over) = fields.iter().skip(width).find(|field| !field.is_blank(text)) {
                self.tell(too_long(over.span(text), fields.len(), width));
                continue;
            }
            let separator = char::from(header.separator);
            let row = Row { text, headings: &headings, fields: &fields, separator, span };
            let before = self.findings.len();
            self.recorded_row(&row);
            for finding in self.findings.iter_mut().skip(before) {
                finding.place.file = input.file;
            }
        }
        self.fold_days(first);
    }

    /// Days that are written in one habit differ in every row and are wrong in one way: they become one finding.
    fn fold_days(&mut self, first: usize) {
        const PLACES: usize = 3;
        for code in ["day-or-month-first", "date-spelling"] {
            let is_own = |one: &Finding| one.code == code;
            let Some(at) = self.findings.iter().skip(first).position(is_own).map(|at| at + first) else {
                continue;
            };
            let again = self.findings.split_off(at + 1);
            let (again, others): (Vec<Finding>, Vec<Finding>) = again.into_iter().partition(is_own);
            self.findings.extend(others);
            let told = &mut self.findings[at];
            if !again.is_empty() {
                told.message = format!("{}; {} more like it", told.message, count(again.len(), "place"));
                let places = again.iter().take(PLACES).map(|one| (one.place, "here as well".to_owned()));
                told.related.extend(places);
            }
        }
    }

    fn headings(
        &mut self,
        declared: &RecordFile,
        (file, text): (FileId, &str),
        header: &Header,
    ) -> Option<Vec<Heading>> {
        let mut headings: Vec<Heading> = header
            .fields
            .iter()
            .map(|field| {
                let own = field.text(text).into_owned();
                let (column, unit) = word_and_unit(&own, known);
                Heading { text: own, span: field.span(text), column, unit }
            })
            .collect();
        for told in &declared.columns {
            if let Err(finding) = rename(declared, told, &mut headings) {
                self.findings.push(*finding);
            }
        }
        let line = text[header.row.start..header.row.end].trim_end();
        let line = Place { file, span: Span::new(header.row.start, header.row.start + line.len()) };
        let has = |column: RecordColumn| headings.iter().any(|one| one.column == Some(column));
        let missing =
            [(has(RecordColumn::Date), "date"), (has(RecordColumn::What) || has(RecordColumn::Step), "what")];
        let missing: Vec<&str> = missing.iter().filter(|(there, _)| !there).map(|&(_, word)| word).collect();
        if missing.len() == 2 {
            let finding =
                Finding::error("header-not-known", line, "the first line does not name the columns");
            self.findings.push(finding.label("this should be the header").help(EXAMPLE).binding());
            return None;
        }
        if let [word] = missing.as_slice() {
            let message = format!("the file has no column `{word}`");
            self.findings.push(Finding::error("column-missing", line, message).help(EXAMPLE).binding());
            return None;
        }
        for (at, heading) in headings.iter().enumerate() {
            let twice = |other: &Heading| other.column.is_some() && other.column == heading.column;
            if headings[..at].iter().any(twice) {
                let place = Place { file, span: heading.span };
                let finding =
                    Finding::error("column-twice", place, "the file has two columns that tell the same");
                let help = "keep one of them, or give the other another heading";
                self.findings.push(finding.label("the second").help(help).binding());
                return None;
            }
        }
        let unknown = headings.iter().filter(|one| one.column.is_none() && !one.text.is_empty());
        let unknown = unknown.map(|one| Unknown { text: &one.text, place: Place { file, span: one.span } });
        self.findings.extend(extra(&unknown.collect::<Vec<_>>(), ("record", "record"), &words(), |_| {
            Some("initials")
        }));
        Some(headings)
    }

    /// A row without anything that was written on the day is one that waits for its day.
    fn recorded_row(&mut self, row: &Row<'_>) {
        use RecordColumn::{Air, By, Date, Humidity, Note, Round, Surface, Time, Until, Used};
        let Some(written) = row.get(Date) else {
            if row.has_any(&[Time, Until, Used, Air, Humidity, Surface, By, Note]) {
                let message = "this row does not say on which day it was done";
                self.tell(Finding::error("record-row-incomplete", row.span, message).help(
                    "write the day in its column, as `2026-04-13`, on every row; leave what was not done blank",
                ));
            } else if let Some((other, own)) = row.parted_otherwise() {
                let message = format!("this row is parted by {other}, the file by {own}");
                let help =
                    format!("part its fields by {own} as the headings are, or what was done is not read");
                self.tell(Finding::error("record-row-incomplete", row.span, message).help(help));
            }
            return;
        };
        let date = self.day_of_row(&written);
        if date.is_some_and(|date| self.is_later(date)) {
            return;
        }
        // What else is wrong with the row is told although its day is.
        let day = Located::new(date.unwrap_or(jiff::civil::Date::ZERO), written.span);
        let Some((statement, step)) = self.statement(row) else { return };
        let (time, until) = (self.clock_of_row(row, Time), self.clock_of_row(row, Until));
        let ahead = row.get(Round);
        let kept = |written: &Located<Cow<'_, str>>| is_upkeep(&written.value);
        let upkeep =
            ahead.as_ref().is_some_and(kept) || row.get(RecordColumn::What).as_ref().is_some_and(kept);
        let Some(done) = self.done_of((day, time, until), &statement).filter(|_| date.is_some()) else {
            return;
        };
        let place = Place { file: self.file, span: row.span };
        let done = Done { step: step.filter(|_| !upkeep), place, upkeep, ..done };
        match ahead.filter(|_| !upkeep) {
            Some(round) => self.parked.push((done, round.map(Cow::into_owned))),
            None => self.study.done.push(done),
        }
    }

    // A table may carry a day as spreadsheets write it, as long as the year stands first.
    fn day_of_row(&mut self, written: &Located<Cow<'_, str>>) -> Option<Date> {
        match table::day(&written.value) {
            Ok(date) => Some(date),
            Err(_) => self.read_date(Located::new(written.value.as_ref(), written.span)),
        }
    }

    fn clock_of_row(&mut self, row: &Row<'_>, column: RecordColumn) -> Option<ClockTime> {
        let written = row.get(column)?;
        let time = table::clock(&written.value);
        if time.is_none() {
            let message = format!("there is no time of day `{}`", shown(&written.value));
            self.tell(Finding::error("no-such-time", written.span, message).help("write it as `09:00`"));
        }
        time
    }

    /// The row as the line that says the same, and the step of the preparation where it names one.
    fn statement(&mut self, row: &Row<'_>) -> Option<(Statement, Option<usize>)> {
        let (what, step) = self.what(row)?;
        let mut clauses = vec![what];
        let mut add = |name: &'static str, args: Vec<Value>, span: Span| {
            let args = args.into_iter().map(|value| Located::new(value, span)).collect();
            clauses.push(Clause { name, args, clauses: Vec::new(), span });
        };
        if let Some(used) = self.quantity(row, RecordColumn::Used)? {
            add("used", vec![Value::Quantity(used.value)], used.span);
        }
        let air = self.quantity(row, RecordColumn::Air)?;
        let humidity = self.quantity(row, RecordColumn::Humidity)?;
        let span = air.as_ref().or(humidity.as_ref()).map_or(row.span, |one| one.span);
        let met = air.into_iter().chain(humidity).map(|one| Value::Quantity(one.value)).collect();
        add("at", met, span);
        if let Some(surface) = self.quantity(row, RecordColumn::Surface)? {
            add("skin", vec![Value::Quantity(surface.value)], surface.span);
        }
        for (column, name) in [(RecordColumn::By, "by"), (RecordColumn::Note, "because")] {
            if let Some(text) = row.get(column) {
                add(name, vec![Value::Text(text.value.into_owned())], text.span);
            }
        }
        if let Some(sections) = row.get(RecordColumn::Section).filter(|written| !is_all(&written.value)) {
            let names = self.sections_named(&sections.value).into_iter().map(Value::Name).collect();
            add("spot", names, sections.span);
        }
        let statement = Statement {
            verb: "done".to_owned(),
            args: Vec::new(),
            clauses,
            span: row.span,
            prose: String::new(),
        };
        Some((statement, step))
    }

    /// The value of a column with its unit; the outer `None` where it cannot be read.
    #[allow(
        clippy::option_option,
        reason = "the row is told where it cannot be read, and goes on where it is blank"
    )]
    fn quantity(&mut self, row: &Row<'_>, column: RecordColumn) -> Option<Option<Located<Quantity>>> {
        let Some(written) = row.get(column) else { return Some(None) };
        let figure = |c: char| c.is_ascii_digit() || ".,+-\u{2212}".contains(c);
        let (number, unit) =
            written.value.split_at(written.value.find(|c| !figure(c)).unwrap_or(written.value.len()));
        let mut number = number.trim().replace('\u{2212}', "-");
        if row.separator == ';' && !number.contains('.') {
            number = number.replacen(',', ".", 1);
        }
        if number.is_empty() {
            let message = format!("`{}` is not a number", shown(&written.value));
            let finding = Finding::error("not-a-number", written.span, message);
            self.tell(finding.help(
                "write the number, with its unit where the heading has none, or leave the field blank",
            ));
            return None;
        }
        let heading = row.headings.iter().find(|heading| heading.column == Some(column));
        let unit = unit.trim();
        let unit =
            if unit.is_empty() { heading.and_then(|one| one.unit.clone()) } else { Some(unit.to_owned()) };
        let unit = match (unit.as_deref(), column) {
            (None | Some("%" | "% RH" | "%RH" | "RH"), RecordColumn::Humidity) => {
                Some("% humidity".to_owned())
            }
            _ => unit,
        };
        let Some(unit) = unit else {
            let called = heading.map_or("", |heading| heading.text.as_str());
            let example = if column == RecordColumn::Used { "used ml" } else { "air degC" };
            let message = format!("nothing says which unit `{}` is in", shown(&written.value));
            self.tell(Finding::error("record-row-unclear", written.span, message).help(format!(
                "give the heading `{}` its unit, as `{example}`, or write the unit behind the number",
                shown(called)
            )));
            return None;
        };
        let num = |text: String| Num::new(text, written.span);
        let quantity = Quantity { low: num(number), high: None, unit: Some(num(unit)), low_unit: None };
        Some(Some(Located::new(quantity, written.span)))
    }

    /// Binds the rounds that rows and lines name, once the rounds are known.
    pub(super) fn bind_parked(&mut self) {
        for (done, round) in std::mem::take(&mut self.parked) {
            self.file = done.place.file;
            let before = self.findings.len();
            let ahead = self.round_id(Located::new(round.value.as_str(), round.span));
            for finding in self.findings.iter_mut().skip(before) {
                finding.place.file = done.place.file;
            }
            self.file = FileId::STUDY;
            if ahead.is_some() {
                self.study.done.push(Done { ahead, set: None, ..done });
            }
        }
        self.study.done.sort_by_key(|done| done.date.value);
    }
}

/// `upkeep`, in place of a round or of what was done.
pub(super) fn is_upkeep(text: &str) -> bool {
    let text = folded(text);
    text == "upkeep" || text == folded(say!("Upkeep"))
}

fn is_all(text: &str) -> bool {
    ["all", "every", "all sections", "alle", "alle abschnitte"].contains(&text.trim().to_lowercase().as_str())
}

fn known(text: &str) -> Option<RecordColumn> {
    let text = folded(text);
    let english = WORDS.iter().find(|(_, words)| words.contains(&text.as_str())).map(|&(column, _)| column);
    // Those of the printed record, in the language of the study.
    english.or_else(|| RecordColumn::ALL.into_iter().find(|column| folded(&column.heading()) == text))
}

fn words() -> Vec<&'static str> {
    WORDS.iter().flat_map(|(_, words)| words.iter().copied()).collect()
}

/// Gives a column that the study names otherwise its meaning.
fn rename(declared: &RecordFile, told: &ClimateColumn, headings: &mut [Heading]) -> Result<(), Box<Finding>> {
    let Some(column) = known(&told.word.value) else {
        let message = format!("`{}` is not a column that a record has", shown(&told.word.value));
        let near = nearest(&told.word.value, words());
        let help = near.map_or_else(|| EXAMPLE.to_owned(), |near| format!("write `{near}`"));
        let finding = Finding::error("column-missing", told.word.span, message);
        return Err(Box::new(finding.help(help).binding()));
    };
    let called = told.heading.value.trim().to_lowercase();
    if let Some(heading) = headings.iter_mut().find(|one| one.text.to_lowercase() == called) {
        heading.column = Some(column);
        heading.unit = told.unit.clone().or(heading.unit.take());
        return Ok(());
    }
    let message = format!("`{}` has no column `{}`", declared.name.value, shown(&told.heading.value));
    let have: Vec<String> = headings.iter().map(|one| format!("`{}`", shown(&one.text))).collect();
    let finding = Finding::error("column-missing", told.heading.span, message);
    Err(Box::new(finding.help(format!("its columns are {}", list(&have, "and"))).binding()))
}

fn open_quote(span: Span) -> Finding {
    Finding::error("unclosed-quote", span, "this quote is never closed")
        .help("close it in the same line, or take it out")
        .binding()
}

fn too_long(span: Span, has: usize, header: usize) -> Finding {
    let fields = count(has, "field");
    Finding::error("row-too-long", span, format!("this row has {fields}, the header {header}"))
        .label("no heading stands over this")
        .help("put quotes around a text that holds the separator, and write decimals with a point")
        .binding()
}

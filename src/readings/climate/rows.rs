//! Reads the rows of a climate file: each is placed at its time, or a fault says why not.

use super::super::faults::{Faults, Wrong};
use super::super::model::FileState;
use super::super::number::{self, Entry};
use super::columns::{Columns, Scale, ValueColumn, span_of};
use super::model::{ClimatePart, ClimateRow, seconds_between};
use crate::table::{Field, Row, Splitter, clock, day};
use crate::text::Span;
use crate::units::{AnyQuantity, NumberFault};
use jiff::civil::{Date, DateTime, Time};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// What is wrong with a row of climate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(in super::super) enum ClimateWrong {
    /// Not a number.
    Number(ClimatePart),
    /// A value that cannot be.
    Range(ClimatePart),
    /// Neither 1 nor 0, where the heading has no unit.
    YesNo,
    /// The row names no time.
    NoTime,
    /// A time with a zone.
    Zone,
    /// Another row begins at the same time.
    SameTime,
    /// More time than the row stands for.
    TooLong(ClimatePart),
}

/// A row with the places of what may yet turn out wrong.
struct Raw {
    row: ClimateRow,
    time: Span,
    wet: Span,
    sunshine: Span,
    /// What the wet column says where it says 1 or 0, until it is known for how long the row stands.
    wet_all: Option<bool>,
    /// Irradiance, W per m2, until it is known for how long.
    irradiance: Option<f64>,
}

/// Reads one file.
pub(super) struct Reader<'a, 'b> {
    pub(super) text: &'a str,
    pub(super) columns: &'b Columns,
    pub(super) as_of: Option<Date>,
    pub(super) comma: bool,
    pub(super) faults: Faults,
    pub(super) state: FileState,
}

impl<'a> Reader<'a, '_> {
    /// Reads every row from an offset on. `declared_s` is the time that the study says a row stands for. Gives the
    /// rows by time, and the time that a row usually stands for.
    pub(super) fn read(
        &mut self,
        separator: u8,
        from: usize,
        declared_s: Option<f64>,
    ) -> (Vec<ClimateRow>, f64) {
        let mut splitter = Splitter::new(self.text, separator);
        splitter.at = from;
        let (mut fields, mut raws) = (Vec::new(), Vec::new());
        while let Some(row) = splitter.next_row(&mut fields) {
            if fields.iter().all(|field| field.is_blank(self.text)) {
                continue;
            }
            self.state.rows += 1;
            let before = self.faults.added;
            raws.extend(self.row(row, &fields));
            self.state.refused += usize::from(self.faults.added > before);
        }
        // Rows of one time keep the order of the file, and the first of them counts.
        raws.sort_by_key(|raw| raw.row.at);
        let mut single: Vec<Raw> = Vec::with_capacity(raws.len());
        for raw in raws {
            if single.last().is_some_and(|last| last.row.at == raw.row.at) {
                self.state.refused += 1;
                self.faults.add_first(
                    Wrong::Climate(ClimateWrong::SameTime),
                    slice(self.text, raw.time),
                    raw.time,
                );
            } else {
                single.push(raw);
            }
        }
        let step_s = declared_s.or_else(|| usual_step(&single)).unwrap_or(0.0);
        let starts: Vec<DateTime> = single.iter().map(|raw| raw.row.at).collect();
        let next = |at: usize| starts.get(at + 1).map(|&next| seconds_between(starts[at], next));
        let rows = single.into_iter().enumerate().map(|(at, raw)| self.spanned(&raw, span(next(at), step_s)));
        (rows.collect(), step_s)
    }

    /// Reads one row.
    fn row(&mut self, row: Row, fields: &[Field]) -> Option<Raw> {
        if let Some(at) = row.open_quote {
            self.faults.add(Wrong::OpenQuote, "", Span::new(at, at + 1));
            return None;
        }
        if let Some(extra) = fields.iter().skip(self.columns.width).find(|field| !field.is_blank(self.text)) {
            self.faults.add(Wrong::TooLong(fields.len(), self.columns.width), "", extra.span(self.text));
            return None;
        }
        let at = self.moment(fields)?;
        if self.as_of.is_some_and(|as_of| at.date() > as_of) {
            self.state.later += 1;
            return None;
        }
        let time = span_of(fields, self.columns.time.or(self.columns.date), self.text);
        let none = Span::default();
        let mut raw = Raw {
            row: ClimateRow::empty(at),
            time,
            wet: none,
            sunshine: none,
            wet_all: None,
            irradiance: None,
        };
        for column in &self.columns.values {
            self.value(fields, *column, &mut raw);
        }
        Some(raw)
    }

    /// The clock time of a row, from one column or from two.
    fn moment(&mut self, fields: &[Field]) -> Option<DateTime> {
        let (date, time) = (self.field(fields, self.columns.date), self.field(fields, self.columns.time));
        let whole = if self.columns.date.is_none() { self.columns.time } else { self.columns.date };
        let own = if self.columns.date.is_none() { &time } else { &date };
        if own.is_empty() {
            self.fault(Wrong::Climate(ClimateWrong::NoTime), "", fields, whole);
            return None;
        }
        let (day_text, behind) = own.split_once(['T', ' ']).unwrap_or((own, ""));
        let date = match day(day_text) {
            Ok(date) => date,
            Err(fault) => {
                let day_text = day_text.to_owned();
                self.fault(fault.into(), &day_text, fields, whole);
                return None;
            }
        };
        let two = self.columns.date.is_some() && self.columns.time.is_some();
        let (clock_text, column) =
            if two { (time.trim(), self.columns.time) } else { (behind.trim(), whole) };
        if clock_text.is_empty() && !two {
            return Some(DateTime::from_parts(date, Time::midnight()));
        }
        let Some(time) = clock(clock_text) else {
            let zone = clock_text.ends_with(['Z', 'z'])
                || clock_text.contains(['+', '-'])
                || clock_text.contains("UTC");
            let wrong = if zone { Wrong::Climate(ClimateWrong::Zone) } else { Wrong::Time };
            let clock_text = clock_text.to_owned();
            self.fault(wrong, &clock_text, fields, column);
            return None;
        };
        Some(DateTime::from_parts(date, time))
    }

    /// Reads one value into the row; one that cannot be read stays missing.
    fn value(&mut self, fields: &[Field], column: ValueColumn, raw: &mut Raw) {
        let text = self.field(fields, Some(column.at));
        let span = span_of(fields, Some(column.at), self.text);
        let value = match number::entry(&text, self.comma) {
            Ok((Entry::Taken(value), comma)) => {
                if comma {
                    self.faults.add_first(Wrong::CommaTaken, &text, span);
                }
                value
            }
            Ok((Entry::Blank | Entry::NotTaken, _)) => return,
            Err(NumberFault::Comma) => return self.faults.add_first(Wrong::Comma, &text, span),
            Ok((Entry::Below(_), _)) | Err(NumberFault::NotANumber) => {
                return self.faults.add_text(Wrong::Climate(ClimateWrong::Number(column.part)), &text, span);
            }
        };
        let value = match column.scale {
            Scale::Percent | Scale::YesNo => value,
            Scale::In(unit) => AnyQuantity { value, unit }.base(),
        };
        if column.scale == Scale::YesNo {
            match value {
                0.0 => raw.wet_all = Some(false),
                1.0 => raw.wet_all = Some(true),
                _ => self.faults.add(Wrong::Climate(ClimateWrong::YesNo), &text, span),
            }
            return;
        }
        let dose = matches!(column.scale, Scale::In(unit) if unit.dimension == crate::units::Dimension::RadiantExposure);
        if !is_possible(column.part, dose, value) {
            return self.faults.add(Wrong::Climate(ClimateWrong::Range(column.part)), &text, span);
        }
        let row = &mut raw.row;
        match column.part {
            ClimatePart::Air => row.met.air_deg_c = Some(value),
            ClimatePart::Humidity => row.met.humidity_percent = Some(value),
            ClimatePart::Surface => row.met.surface_deg_c = Some(value),
            ClimatePart::Wet => (row.wet_s, raw.wet) = (Some(value), span),
            ClimatePart::Sun if dose => row.sun_j_per_m2 = Some(value),
            ClimatePart::Sun => raw.irradiance = Some(value),
            ClimatePart::Sunshine => (row.sunshine_s, raw.sunshine) = (Some(value), span),
        }
    }

    /// The row with the time that it stands for, and what follows from that.
    fn spanned(&mut self, raw: &Raw, span_s: f64) -> ClimateRow {
        let mut row = ClimateRow { span_s, ..raw.row };
        row.wet_s = raw.wet_all.map_or(row.wet_s, |all| Some(if all { span_s } else { 0.0 }));
        row.sun_j_per_m2 = raw.irradiance.map_or(row.sun_j_per_m2, |watts| Some(watts * span_s));
        // Half a minute is what a time in whole minutes may be off by.
        let too_long = |time: Option<f64>| time.is_some_and(|time| time > span_s + 30.0);
        if too_long(row.wet_s) {
            row.wet_s = None;
            self.too_long(ClimatePart::Wet, raw.wet);
        }
        if too_long(row.sunshine_s) {
            row.sunshine_s = None;
            self.too_long(ClimatePart::Sunshine, raw.sunshine);
        }
        row
    }

    fn too_long(&mut self, part: ClimatePart, span: Span) {
        self.state.refused += 1;
        let wrong = Wrong::Climate(ClimateWrong::TooLong(part));
        self.faults.add_first(wrong, slice(self.text, span), span);
    }

    /// The text of a column of a row; blank where the row has no such field.
    fn field(&self, fields: &[Field], column: Option<usize>) -> Cow<'a, str> {
        column.and_then(|at| fields.get(at)).map_or(Cow::Borrowed(""), |field| field.text(self.text))
    }

    fn fault(&mut self, wrong: Wrong, text: &str, fields: &[Field], column: Option<usize>) {
        let span = span_of(fields, column, self.text);
        self.faults.add_text(wrong, text, span);
    }
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.range()).unwrap_or("")
}

/// The distance of neighbouring rows that is found most often, the smaller of two found equally often.
fn usual_step(rows: &[Raw]) -> Option<f64> {
    let mut counts: BTreeMap<i64, usize> = BTreeMap::new();
    for pair in rows.windows(2) {
        *counts.entry(pair[0].row.at.duration_until(pair[1].row.at).as_secs()).or_default() += 1;
    }
    let most = counts.values().copied().max()?;
    let (&seconds, _) = counts.iter().find(|(_, count)| **count == most)?;
    Some(seconds as f64)
}

/// The time that a row stands for: up to the next row, unless that is late by more than half of the usual step, which
/// is a gap in the record.
fn span(to_next_s: Option<f64>, step_s: f64) -> f64 {
    to_next_s.filter(|&next| next <= 1.5 * step_s).unwrap_or(step_s)
}

/// What can be, in the base unit of each part. The bounds are wider than what weather has done, to find slips only.
/// Common practice, no source.
fn is_possible(part: ClimatePart, dose: bool, value: f64) -> bool {
    let (low, high) = match part {
        ClimatePart::Air => (-90.0, 60.0),
        ClimatePart::Humidity => (0.1, 100.0),
        ClimatePart::Surface => (-90.0, 120.0),
        ClimatePart::Wet | ClimatePart::Sunshine => (0.0, 86_400.0),
        // A sensor that looks into a clear night sky tells a little less than nothing.
        ClimatePart::Sun if dose => (-0.5e6, 60e6),
        ClimatePart::Sun => (-20.0, 2000.0),
    };
    (low..=high).contains(&value)
}

//! Gathers the faults of one file: the same fault with the same text is one fault with a count.

use super::climate::ClimateWrong;
use crate::study::MeasureId;
use crate::table::{DayFault, shown};
use crate::text::Span;
use jiff::civil::Date;
use std::collections::HashMap;

/// Which list of the study a name was looked up in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Named {
    Section,
    Round,
    Measure,
}

/// What is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Wrong {
    /// The study has no such name.
    Unknown(Named),
    /// The row does not say which.
    Unnamed(Named),
    /// Not the unit of the measure, nor one that can be turned into it.
    Unit(MeasureId),
    /// Not a number.
    Number,
    /// Not the number of a reading.
    Counter,
    /// A decimal comma where points are used.
    Comma,
    /// A decimal comma that was taken.
    CommaTaken,
    /// A value that cannot be.
    Range(MeasureId),
    /// A date that reads two ways.
    TwoWays(Date, Date),
    /// A date that must be written year first, where it can be told which day is meant.
    Day(Option<Date>),
    /// A year of two figures: the day that is likely, and the other one.
    ShortYear(Date, Option<Date>),
    /// The calendar has no such day: the last of the month.
    NotThere(Date),
    /// A spreadsheet's number of a day.
    DayNumber(Date),
    /// A mark between thousands, or two marks.
    Thousands,
    /// A row that names nothing of the study: a mean, a heading, units.
    Nowhere,
    /// A reading without a date.
    Undated,
    /// More fields than the header: in the row, in the header.
    TooLong(usize, usize),
    /// Fewer fields than the row needs.
    TooShort(usize, usize),
    /// A quote that is never closed.
    OpenQuote,
    /// Letters were lost in an earlier change of encoding.
    Garbled,
    /// No time of day.
    Time,
    /// Readings of the whole panel at a round.
    PanelAtRound,
    /// Readings of a section or a tile in the preparation.
    PrepOffPanel,
    /// Readings of another measure than the step of the preparation reads.
    PrepOther(MeasureId),
    /// In a file of climate.
    Climate(ClimateWrong),
}

impl From<DayFault> for Wrong {
    fn from(fault: DayFault) -> Self {
        match fault {
            DayFault::TwoWays(one, other) => Self::TwoWays(one, other),
            DayFault::Write(date) => Self::Day(Some(date)),
            DayFault::Short(one, other) => Self::ShortYear(one, other),
            DayFault::NotThere(last) => Self::NotThere(last),
            DayFault::Counted(date) => Self::DayNumber(date),
            DayFault::NoDay => Self::Day(None),
        }
    }
}

/// One fault.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fault {
    pub(super) wrong: Wrong,
    /// The text of the field, cut short where it is long.
    pub(super) text: String,
    /// The first place.
    pub(super) span: Span,
    /// How many rows have it.
    pub(super) count: usize,
    /// A few further places.
    pub(super) more: Vec<Span>,
}

/// What makes two faults one: their text too, save for days, which differ in every row and are written in one habit.
fn key(wrong: Wrong, text: &str) -> (Wrong, String) {
    match wrong {
        Wrong::TwoWays(..) => (Wrong::TwoWays(Date::ZERO, Date::ZERO), String::new()),
        Wrong::Day(Some(_)) => (Wrong::Day(Some(Date::ZERO)), String::new()),
        Wrong::ShortYear(_, other) => {
            (Wrong::ShortYear(Date::ZERO, other.map(|_| Date::ZERO)), String::new())
        }
        Wrong::DayNumber(_) => (Wrong::DayNumber(Date::ZERO), String::new()),
        Wrong::Thousands => (Wrong::Thousands, String::new()),
        other => (other, text.to_owned()),
    }
}

/// The faults of one file.
#[derive(Debug, Default)]
pub(super) struct Faults {
    list: Vec<Fault>,
    /// What each of the list is known by; nothing where it is added once for many rows.
    keys: Vec<Option<(Wrong, String)>>,
    known: HashMap<(Wrong, String), usize>,
    /// How many were added, those that were only counted among them.
    pub(super) added: usize,
}

impl Faults {
    /// How many further places a fault keeps.
    const MORE: usize = 3;

    /// Adds a fault, or counts it where the same text had it before.
    pub(super) fn add(&mut self, wrong: Wrong, text: &str, span: Span) {
        self.added += 1;
        let next = self.list.len();
        let key = key(wrong, text);
        let at = self.known.get(&key).copied().unwrap_or(next);
        if let Some(fault) = self.list.get_mut(at) {
            fault.count += 1;
            if fault.more.len() < Self::MORE {
                fault.more.push(span);
            }
        } else {
            self.list.push(Fault { wrong, text: shown(text), span, count: 1, more: Vec::new() });
            self.keys.push(Some(key.clone()));
            self.known.insert(key, next);
        }
    }

    /// Adds a fault that is one whatever its text, and shows the first of the texts.
    pub(super) fn add_first(&mut self, wrong: Wrong, text: &str, span: Span) {
        self.add(wrong, "", span);
        let first = self.known.get(&(wrong, String::new())).and_then(|&at| self.list.get_mut(at));
        if let Some(fault) = first.filter(|fault| fault.count == 1) {
            fault.text = shown(text);
        }
    }

    /// Adds a fault that many rows have, known by the first of them.
    pub(super) fn add_many(&mut self, wrong: Wrong, span: Span, count: usize) {
        self.list.push(Fault { wrong, text: String::new(), span, count, more: Vec::new() });
        self.keys.push(None);
    }

    /// Adds a fault of a text, or says that letters of it were lost.
    pub(super) fn add_text(&mut self, wrong: Wrong, text: &str, span: Span) {
        if text.contains('\u{fffd}') {
            self.add(Wrong::Garbled, "", span);
        } else {
            self.add(wrong, text, span);
        }
    }

    /// Adds the faults of the next part of the same file.
    pub(super) fn absorb(&mut self, next: Self) {
        self.added += next.added;
        for (fault, key) in next.list.into_iter().zip(next.keys) {
            let last = self.list.len();
            let at = key.clone().map_or(last, |key| *self.known.entry(key).or_insert(last));
            if let Some(known) = self.list.get_mut(at) {
                known.count += fault.count;
                let room = Self::MORE.saturating_sub(known.more.len());
                known.more.extend([fault.span].into_iter().chain(fault.more).take(room));
            } else {
                self.list.push(fault);
                self.keys.push(key);
            }
        }
    }

    /// The faults in the order in which they were found.
    pub(super) fn into_list(self) -> Vec<Fault> {
        self.list
    }
}

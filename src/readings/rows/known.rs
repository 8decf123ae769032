//! Takes a row of words that all came before, though not together, as in a file whose rows stand in no order.

use super::again::Same;
use super::{Keys, Piece, Reader};
use crate::readings::header::Columns;
use crate::readings::model::Context;
use crate::readings::number;
use crate::readings::recent::Recent;
use crate::readings::shelf::Kind;
use crate::readings::stage::Own;
use crate::readings::unit::Turn;
use crate::table::{Splitter, clock, day};
use crate::text::Span;

/// What a column before the value holds.
#[derive(Debug, Clone, Copy)]
enum Head {
    Date,
    Time,
    Round,
    Section,
    Measure,
    Gauge,
    By,
    Number,
    /// What places no reading.
    Aside,
}

/// What the bytes behind a value meant, up to and with the line end.
#[derive(Debug, Clone, Copy)]
struct Rest {
    turn: Turn,
    gauge: Option<u32>,
    by: Option<u32>,
    note: Option<u32>,
}

/// Longer rests of a row are not remembered.
const REST: usize = 96;

/// The columns before the value, and for each measure the rests of rows met lately; no columns where rows are not taken so.
#[derive(Debug, Default)]
pub(super) struct Known {
    head: Vec<Head>,
    rests: Vec<Recent<Rest, REST>>,
}

impl Known {
    /// For files that have one value a row, and all that places it before it but the unit, the gauge, the person and remarks.
    pub(super) fn of(columns: &Columns, measures: usize) -> Self {
        let &[(0, value)] = columns.values.as_slice() else { return Self::default() };
        let mut head = vec![Head::Aside; value];
        let mut behind = false;
        let must = [
            (columns.date, Head::Date),
            (columns.time, Head::Time),
            (columns.round, Head::Round),
            (columns.section, Head::Section),
            (columns.measure, Head::Measure),
            (columns.number, Head::Number),
        ];
        for (column, own) in must {
            match column.map(|at| head.get_mut(at)) {
                Some(Some(slot)) => *slot = own,
                Some(None) => behind = true,
                None => {}
            }
        }
        for (column, own) in [(columns.gauge, Head::Gauge), (columns.by, Head::By)] {
            if let Some(slot) = column.and_then(|at| head.get_mut(at)) {
                *slot = own;
            }
        }
        let before = |&at: &usize| at < value;
        if behind || columns.unit.is_some_and(|at| before(&at)) || columns.notes.iter().any(before) {
            return Self::default();
        }
        let rest = Rest { turn: Turn::Same, gauge: None, by: None, note: None };
        Self { head, rests: (0..measures).map(|_| Recent::new(64, rest)).collect() }
    }
}

impl Reader<'_> {
    /// Takes the next row if each of its words came before; gives what of it may come again and where it ends.
    ///
    /// Before its value such a row has fields without quotes, each of which is looked up by its bytes. The bytes behind the value
    /// stood behind another one of the measure, where the splitter was in the same state, so they read alike.
    pub(super) fn known<'p>(
        &mut self,
        piece: Piece<'p>,
        splitter: &Splitter<'p>,
    ) -> Option<(Same<'p>, usize)> {
        let start = splitter.at;
        let mut context = Context { file: 0, date: None, gauge: None, by: None, note: None };
        let (mut section, mut round, mut number) = (None, None, 0);
        let mut measure = if self.columns.measure.is_none() { Some(0) } else { None };
        let mut at = start;
        for head in &self.known.head {
            let end = splitter.plain_field(at)?;
            let bytes = piece.bytes.get(at..end)?;
            let text = || std::str::from_utf8(bytes).ok();
            match head {
                Head::Date => context.date = Some(self.days.get(bytes).or_else(|| day(text()?).ok())?),
                Head::Round => round = Some(self.rounds.get(bytes)?),
                Head::Section => {
                    section = Some(self.sections.get(bytes).or_else(|| self.lists.sections.known(text()?))?);
                }
                Head::Measure => measure = Some(self.measures.get(bytes)?),
                Head::Gauge => context.gauge = Some(self.words.get(bytes)?),
                Head::By => context.by = Some(self.words.get(bytes)?),
                Head::Number => number = text()?.parse().ok().filter(|&one| one > 0)?,
                Head::Time => _ = clock(text()?)?,
                Head::Aside => _ = text()?,
            }
            at = end + 1;
        }
        let (section, round, measure) = (section?, round?, measure?);
        let own = Own::of(self.study);
        if section as usize >= own.sections || round as usize >= own.rounds {
            return None;
        }
        let rest = piece.bytes.get(at..)?;
        let (value, length) = number::leading(rest)?;
        let after = rest.get(length..)?;
        let after = after.get(..=after.iter().take(REST).position(|&byte| byte == b'\n')?)?;
        let known = self.known.rests.get(measure as usize)?.get(after)?;
        context.gauge = context.gauge.or(known.gauge);
        context.by = context.by.or(known.by);
        context.note = known.note;
        let keys = Keys {
            cell: self.stage.key(section, round, measure),
            context: self.stage.context(context, piece.base + start),
            measure,
            round,
            turn: known.turn,
            number,
            dated: context.date.is_some(),
            apart: false,
        };
        let same = Same::new(self.study, (piece.bytes.get(start..at)?, after), keys);
        let value = same.possible_value(self.study, value)?;
        self.state.rows += 1;
        let span = Span::new(piece.base + at, piece.base + at + length);
        let reading = self.reading(keys, Kind::Taken, value, span);
        self.put(keys, reading);
        Some((same, at + length + after.len()))
    }

    /// Remembers what stands behind the value of a row.
    pub(super) fn remember(&mut self, same: &Same<'_>) {
        let (after, keys) = (same.after, same.keys);
        let Some(rests) = self.known.rests.get_mut(keys.measure as usize) else { return };
        let is_line = after.iter().position(|&byte| byte == b'\n') == Some(after.len() - 1);
        if let (true, None, Some((context, _))) =
            (is_line, rests.get(after), self.stage.contexts.get(keys.context as usize))
        {
            let Context { gauge, by, note, .. } = *context;
            rests.put(after, Rest { turn: keys.turn, gauge, by, note });
        }
    }
}

//! Takes a row that differs from the one before in its number only, at a glance.

use super::{Keys, Piece, Reader};
use crate::readings::line::Line;
use crate::readings::shelf::Kind;
use crate::readings::stage::Spot;
use crate::readings::{number, unit};
use crate::study::Study;
use crate::text::Span;

/// The row before, where its bytes up to the value and after it may come again.
#[derive(Debug, Clone, Copy)]
pub(super) struct Same<'p> {
    before: &'p [u8],
    pub(super) after: &'p [u8],
    pub(super) keys: Keys,
    /// Where its readings go, once a second one is known.
    spot: Option<Spot>,
    /// The lowest and the highest number that is possible; `None` where only some between them are.
    possible: Option<(f64, f64)>,
}

impl<'p> Same<'p> {
    /// The bytes before and after the value of a row, and its keys.
    pub(super) fn new(study: &Study, (before, after): (&'p [u8], &'p [u8]), keys: Keys) -> Self {
        Self { before, after, keys, spot: None, possible: unit::possible(study, keys.measure) }
    }

    /// A plain number in the unit of the measure, if that may have it.
    pub(super) fn possible_value(&self, study: &Study, number: f64) -> Option<f64> {
        let value = self.keys.turn.value(number + 0.0);
        let possible = match self.possible {
            Some((low, high)) => low <= value && value <= high,
            None => unit::is_possible(study, self.keys.measure, value),
        };
        possible.then_some(value)
    }
}

impl Reader<'_> {
    /// Takes a row that differs from the one before in a plain number only; gives the end of the row.
    ///
    /// Equal bytes up to the value leave the splitter in the same state, and equal bytes from the
    /// value to the line end read alike, so nothing but the number has to be looked at.
    pub(super) fn repeat(&mut self, same: &mut Same<'_>, piece: Piece<'_>, at: usize) -> Option<usize> {
        let rest = piece.bytes.get(at..)?.strip_prefix(same.before)?;
        let (number, length) = number::leading(rest)?;
        if !rest.get(length..)?.starts_with(same.after) {
            return None;
        }
        let value = same.possible_value(self.study, number)?;
        self.state.rows += 1;
        let start = at + same.before.len();
        let span = Span::new(piece.base + start, piece.base + start + length);
        let reading = self.reading(same.keys, Kind::Taken, value, span);
        let Keys { cell, context, .. } = same.keys;
        let spot = *same.spot.get_or_insert_with(|| self.stage.next_spot(cell, context));
        self.stage.push(spot, same.keys.number, reading);
        Some(start + length + same.after.len())
    }

    /// What of a row may come again: with one value a line and nothing wrong, the next row may differ in that value only.
    pub(super) fn same<'p>(&self, line: Line<'_>, keys: Keys, bytes: &'p [u8]) -> Option<Same<'p>> {
        let &[(0, at)] = self.columns.values.as_slice() else { return None };
        let value = line.fields.get(at).filter(|field| field.is_plain())?;
        let (start, end) = value.bounds();
        let (before, after) = (bytes.get(..start)?, bytes.get(end..)?);
        let ends = matches!(after.last(), Some(b'\n' | b'\r'));
        ends.then(|| Same::new(self.study, (before, after), keys))
    }
}

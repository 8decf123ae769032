//! One row of a readings file: its fields as texts, and their places in the file.

use crate::table::Field;
use crate::text::Span;
use std::borrow::Cow;

/// A row by itself.
#[derive(Debug, Clone, Copy)]
pub(super) struct Line<'r> {
    /// The row with its line end.
    pub(super) text: &'r str,
    /// Where it begins in the text of the file.
    pub(super) base: usize,
    /// Its fields, with offsets that count from its first byte.
    pub(super) fields: &'r [Field],
}

impl<'r> Line<'r> {
    /// The text of a column; blank where the row has no such field.
    pub(super) fn field(self, column: Option<usize>) -> Cow<'r, str> {
        column.and_then(|at| self.fields.get(at)).map_or(Cow::Borrowed(""), |field| field.text(self.text))
    }

    /// The place of a column; that of the first field where the row has no such field.
    pub(super) fn span(self, column: Option<usize>) -> Span {
        let field = column.and_then(|at| self.fields.get(at)).or_else(|| self.fields.first());
        field.map_or(Span::default(), |field| self.span_of(field))
    }

    /// The place of a field.
    pub(super) fn span_of(self, field: &Field) -> Span {
        let own = field.span(self.text).range();
        Span::new(self.base + own.start, self.base + own.end)
    }

    /// The place of the row without its line end.
    pub(super) fn whole(self) -> Span {
        Span::new(self.base, self.base + self.text.trim_end().len())
    }

    /// True if a field is there and not blank.
    pub(super) fn has(self, at: usize) -> bool {
        self.fields.get(at).is_some_and(|field| !field.is_blank(self.text))
    }

    /// True if nothing but blanks is in it.
    pub(super) fn is_blank(self) -> bool {
        self.fields.iter().all(|field| field.is_blank(self.text))
    }
}

/// How a piece ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ends {
    /// With a row, and no quote was left open in it.
    Row,
    /// A quote was left open.
    Open,
    /// One of its rows is no text.
    NoText,
}

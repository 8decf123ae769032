//! How readings are kept: neighbouring cells share a shelf, and what neighbouring readings share is said once for all of them.

use crate::text::Span;
use std::ops::Range;

/// How a reading is kept: 16 bytes, since a study may have millions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Packed {
    pub(super) value: f64,
    pub(super) at: u32,
    pub(super) length: u16,
    pub(super) kind: Kind,
    pub(super) marks: u8,
}

/// Which value it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Taken,
    BelowGauge,
    NotTaken,
    /// Nothing was typed in, not even that it was not taken.
    Blank,
}

impl Packed {
    /// The file gives the number.
    pub(super) const NUMBERED: u8 = 1;
    /// A statement leaves it out.
    pub(super) const LEFT_OUT: u8 = 2;

    pub(super) fn is(&self, mark: u8) -> bool {
        self.marks & mark != 0
    }

    pub(super) fn is_kept_number(&self) -> bool {
        self.kind == Kind::Taken && !self.is(Self::LEFT_OUT)
    }

    pub(super) fn span(&self) -> Span {
        Span { start: self.at, end: self.at + u32::from(self.length) }
    }
}

/// Readings of one cell that lie side by side and share their context.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    /// So many readings of the shelf come before it.
    pub(super) before: u32,
    /// The list that it lies in, and its place there.
    pub(super) list: u32,
    pub(super) from: u32,
    pub(super) context: u32,
}

/// A part of a stretch: where it begins among the readings of the shelf, its context, and its readings.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part<'s> {
    pub(super) at: u32,
    pub(super) context: u32,
    pub(super) rows: &'s [Packed],
}

/// Readings in the order of their cells, and within a cell in that of the files.
///
/// Those of a file that goes from cell to cell stay where its readers put them, since they are most of what a study keeps.
#[derive(Debug, Clone, Default)]
pub(super) struct Shelf {
    pub(super) lists: Vec<Vec<Packed>>,
    /// In their order; the first begins with the first reading.
    pub(super) stretches: Vec<Stretch>,
    /// Readings that have a number in their file, by their place on the shelf, and that number.
    pub(super) numbers: Vec<(u32, u32)>,
    pub(super) len: u32,
}

impl Shelf {
    /// Neighbouring readings, by their places on the shelf.
    pub(super) fn parts(&self, range: Range<u32>) -> impl Iterator<Item = Part<'_>> {
        self.places(range).filter_map(|(at, stretch, own)| {
            let rows = self.lists.get(stretch.list as usize)?.get(own)?;
            Some(Part { at, context: stretch.context, rows })
        })
    }

    /// Does something to neighbouring readings.
    pub(super) fn each(&mut self, range: Range<u32>, mut act: impl FnMut(&mut Packed)) {
        let places: Vec<(u32, Stretch, Range<usize>)> = self.places(range).collect();
        for (_, stretch, own) in places {
            let rows = self.lists.get_mut(stretch.list as usize).and_then(|list| list.get_mut(own));
            rows.unwrap_or_default().iter_mut().for_each(&mut act);
        }
    }

    /// The number that a reading has in its file.
    pub(super) fn number(&self, at: u32) -> Option<u32> {
        let found = self.numbers.binary_search_by_key(&at, |&(at, _)| at).ok()?;
        self.numbers.get(found).map(|&(_, number)| number)
    }

    /// Where neighbouring readings lie: where each part begins on the shelf, its stretch, and its places in the list of that.
    fn places(&self, range: Range<u32>) -> impl Iterator<Item = (u32, Stretch, Range<usize>)> {
        let first = self.stretches.partition_point(|one| one.before <= range.start).saturating_sub(1);
        let own = self.stretches.get(first..).unwrap_or_default();
        let ends = own.iter().skip(1).map(|one| one.before).chain([self.len]);
        let within = own.iter().zip(ends).take_while(move |(one, _)| one.before < range.end);
        within.map(move |(one, end)| {
            let (from, to) = (range.start.max(one.before), range.end.min(end));
            let place = |at: u32| (one.from + (at - one.before)) as usize;
            (from, *one, place(from)..place(to.max(from)))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_are_found_in_their_order_wherever_they_lie() {
        let row = |at: u32| Packed { value: 0.0, at, length: 1, kind: Kind::Taken, marks: 0 };
        let stretch = |before, list, from, context| Stretch { before, list, from, context };
        let mut shelf = Shelf {
            lists: vec![(10..15).map(row).collect(), (20..23).map(row).collect()],
            stretches: vec![
                stretch(0, 1, 0, 7),
                stretch(2, 0, 3, 8),
                stretch(4, 0, 0, 7),
                stretch(7, 1, 2, 9),
            ],
            numbers: vec![(3, 5)],
            len: 8,
        };
        let all = [20, 21, 13, 14, 10, 11, 12, 22];
        for from in 0..=8 {
            for to in from..=9 {
                let own: Vec<(u32, u32)> = shelf
                    .parts(from..to)
                    .flat_map(|part| (part.at..).zip(part.rows).map(|(at, row)| (at, row.at)))
                    .collect();
                let wanted: Vec<(u32, u32)> = (from..to.min(8)).map(|at| (at, all[at as usize])).collect();
                assert_eq!(own, wanted, "{from} {to}");
            }
        }
        assert_eq!(shelf.parts(1..5).map(|part| part.context).collect::<Vec<_>>(), [7, 8, 7]);
        shelf.each(3..6, |row| row.marks |= Packed::LEFT_OUT);
        let marked = shelf.lists.iter().flatten().filter(|row| row.is(Packed::LEFT_OUT));
        assert_eq!(marked.map(|row| row.at).collect::<Vec<_>>(), [10, 11, 14]);
        assert_eq!((shelf.number(3), shelf.number(4)), (Some(5), None));
        assert_eq!(Shelf::default().parts(0..3).count(), 0);
    }
}

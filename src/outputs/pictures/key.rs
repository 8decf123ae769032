//! The key of a map that is too small for names: what lies on which sections, in columns below it.

use super::frame::{lines, text_width};
use crate::report::{Kind, SectionView};

/// Size of its letters, in units of the map.
pub(super) const SIZE: f64 = 2.15;
/// From one line to the next.
const LEADING: f64 = 3.3;
/// Between two columns, in em.
const GAP: f64 = 1.0;
const WIDER: f64 = 1.1;

/// Its lines in columns.
pub(super) struct Key {
    columns: usize,
    column: f64,
    lines: Vec<String>,
    below: Vec<String>,
}

impl Key {
    /// What each treatment lies on, bare and the like first, then in the order of the sections, and a note; for a width in
    /// units.
    pub(super) fn new(sections: &[SectionView], note: Option<&str>, width: f64) -> Self {
        let mut treatments: Vec<(&str, Vec<&str>)> = Vec::new();
        let products = |section: &&SectionView| section.kind == Kind::Product;
        for section in
            sections.iter().filter(|section| !products(section)).chain(sections.iter().filter(products))
        {
            match treatments.iter_mut().find(|(label, _)| *label == section.label) {
                Some((_, codes)) => codes.push(&section.whole),
                None => treatments.push((&section.label, vec![&section.whole])),
            }
        }
        let entries = treatments.iter().map(|(label, codes)| format!("{label}: {}", codes.join(", ")));
        let entries: Vec<String> = entries.collect();
        // Letters of other fonts may be a tenth wider.
        let room = |columns: f64| (width / columns / SIZE - GAP) / WIDER;
        let broken = entries.iter().filter(|entry| text_width(entry) > room(2.0)).count();
        let columns = if 4 * broken <= entries.len() { 2.0 } else { 1.0 };
        Self {
            columns: if columns > 1.0 { 2 } else { 1 },
            column: width / columns,
            lines: entries.iter().flat_map(|entry| lines(entry, room(columns))).collect(),
            below: note.into_iter().flat_map(|note| lines(note, room(1.0))).collect(),
        }
    }

    /// How high it is, in units.
    pub(super) fn height(&self) -> f64 {
        (self.rows() + self.below.len()) as f64 * LEADING + 2.0
    }

    fn rows(&self) -> usize {
        self.lines.len().div_ceil(self.columns)
    }

    /// Each line with its place from the upper left corner, in units.
    pub(super) fn places(&self) -> impl Iterator<Item = (f64, f64, &str)> {
        let rows = self.rows();
        let down = |row: usize| (row as f64 + 1.0) * LEADING;
        let columns = self.lines.iter().enumerate();
        let columns =
            columns.map(move |(at, line)| ((at / rows) as f64 * self.column, down(at % rows), line.as_str()));
        let below = self.below.iter().enumerate();
        columns.chain(below.map(move |(at, line)| (0.0, down(rows + at), line.as_str())))
    }
}

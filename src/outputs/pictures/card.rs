//! A picture that stands alone where people pass it on: question, finding, drawing, sections and date, source.

use super::frame::{self, BOLD, Piece, lines};
use super::plot::text;
use crate::markup::{Xml, coordinate};

/// What stands around the drawing.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Around<'a> {
    /// The question that the study asks, or its title.
    pub(crate) question: &'a str,
    /// The finding.
    pub(crate) title: &'a str,
    /// Sections, date, how to read it.
    pub(crate) note: &'a str,
    /// Study, date and tool.
    pub(crate) source: &'a str,
    /// Rules of style of the study.
    pub(crate) style: &'a str,
}

impl<'a> Around<'a> {
    /// The same under another title.
    pub(crate) fn under(self, title: &'a str) -> Self {
        Self { title, ..self }
    }
}

/// Room left free at the edges, as a share of the shorter side.
const EDGE: f64 = 0.05;
/// Lines of a text are so far apart, in its size.
const LEADING: f64 = 1.3;
/// Between drawings that stand beside each other, in their own unit.
const GAP: f64 = 12.0;

/// A text in lines of one size.
struct Set {
    size: f64,
    lines: Vec<String>,
}

impl Set {
    /// In the largest size, down from a share of the shorter side, that needs no more than so many lines; in the
    /// smallest it takes what it needs.
    fn fit(words: &str, (width, side): (f64, f64), (largest, most): (f64, usize), bold: bool) -> Self {
        let wider = if bold { BOLD } else { 1.0 };
        let steps = [1.0, 0.9, 0.8, 0.7, 0.62].into_iter();
        let sets = steps.map(|step| {
            let size = (largest * side * step).round();
            // Letters of other fonts may be a tenth wider.
            Self { size, lines: lines(words, width / size / wider / 1.1) }
        });
        let mut last = Self { size: 0.0, lines: Vec::new() };
        for set in sets {
            last = set;
            if last.lines.len() <= most {
                break;
            }
        }
        last
    }

    fn height(&self) -> f64 {
        self.lines.len() as f64 * self.size * LEADING
    }

    fn draw(&self, class: &str, (left, top): (f64, f64), xml: &mut Xml) {
        for (at, line) in self.lines.iter().enumerate() {
            let y = top + self.size + at as f64 * self.size * LEADING;
            text(xml, class, (left, y), self.size, "start", line);
        }
        xml.line();
    }
}

/// What stands around the drawing, set for a size, and the box that is left for it: left, top, right and bottom.
struct Page {
    question: Set,
    title: Set,
    note: Set,
    source: Set,
    edge: f64,
    inside: (f64, f64, f64, f64),
}

impl Page {
    fn new(around: Around<'_>, (width, height): (f64, f64)) -> Self {
        let side = width.min(height);
        let edge = (EDGE * side).round();
        let room = (width - 2.0 * edge, side);
        let question = Set::fit(around.question, room, (0.028, 2), false);
        let title = Set::fit(around.title, room, (0.044, 3), true);
        let note = Set::fit(around.note, room, (0.024, 3), false);
        let source = Set::fit(around.source, room, (0.022, 1), false);
        let top = edge + question.height() + 0.3 * question.size + title.height() + 0.6 * title.size;
        let bottom = height - edge - source.height() - note.height() - 1.1 * note.size;
        Self { question, title, note, source, edge, inside: (edge, top, width - edge, bottom) }
    }
}

/// A picture cut in several ways, each into pieces that stand beside each other: how large the best of them is drawn.
pub(crate) fn scale(around: Around<'_>, cuts: &[Vec<Piece<'_>>], size: (f64, f64)) -> f64 {
    let inside = Page::new(around, size).inside;
    cuts.iter().map(|pieces| placed(pieces, inside).1).fold(0.0, f64::max)
}

/// The file, so many pixels wide and high, with the cut that is drawn largest.
pub(crate) fn card(around: Around<'_>, cuts: &[Vec<Piece<'_>>], (width, height): (f64, f64)) -> String {
    let Page { question, title, note, source, edge, inside } = Page::new(around, (width, height));
    // The first of those that are as large.
    let best = cuts.iter().rev().max_by(|a, b| placed(a, inside).1.total_cmp(&placed(b, inside).1));
    let pieces = best.map_or(&[][..], Vec::as_slice);
    let words: Vec<&str> = pieces.iter().map(|piece| piece.words.as_str()).collect();
    frame::card((around.title, &words.join(". ")), around.style, (width, height), |xml| {
        question.draw("soft", (edge, edge), xml);
        title.draw("code", (edge, edge + question.height() + 0.3 * question.size), xml);
        let foot = height - edge - source.height();
        source.draw("soft", (edge, foot), xml);
        note.draw("soft", (edge, foot - note.height() - 0.5 * note.size), xml);
        drawings(pieces, inside, xml);
    })
}

/// In how many columns pieces are drawn largest in a box, and how large.
fn placed(pieces: &[Piece<'_>], (left, top, right, bottom): (f64, f64, f64, f64)) -> (usize, f64) {
    let scale = |columns: usize| {
        let (w, h) = extent(pieces, columns);
        ((right - left) / w).min((bottom - top) / h)
    };
    let columns = (1..=pieces.len()).max_by(|&a, &b| scale(a).total_cmp(&scale(b)));
    columns.map_or((0, 0.0), |columns| (columns, scale(columns)))
}

/// Width and height of pieces in so many columns, in their own unit.
fn extent(pieces: &[Piece<'_>], columns: usize) -> (f64, f64) {
    let (wide, high) = largest(pieces);
    let (rows, columns) = (pieces.len().div_ceil(columns) as f64, columns as f64);
    (columns * wide + (columns - 1.0) * GAP, rows * high + (rows - 1.0) * GAP)
}

fn largest(pieces: &[Piece<'_>]) -> (f64, f64) {
    pieces.iter().fold((0.0, 0.0), |(w, h): (f64, f64), piece| (w.max(piece.size.2), h.max(piece.size.3)))
}

/// The pieces in as many columns as make them largest, in a box of left, top, right and bottom.
fn drawings(pieces: &[Piece<'_>], (left, top, right, bottom): (f64, f64, f64, f64), xml: &mut Xml) {
    let (columns, scale) = placed(pieces, (left, top, right, bottom));
    if columns == 0 {
        return;
    }
    let ((wide, high), (w, h)) = (largest(pieces), extent(pieces, columns));
    // In the middle of its box, so that no edge looks forgotten.
    let (left, top) = (left + (right - left - w * scale) / 2.0, top + (bottom - top - h * scale) / 2.0);
    for (at, piece) in pieces.iter().enumerate() {
        let (column, row) = ((at % columns) as f64, (at / columns) as f64);
        let x = left + column * (wide + GAP) * scale - piece.size.0 * scale;
        let y = top + row * (high + GAP) * scale - piece.size.1 * scale;
        let placed = format!("translate({} {}) scale({})", coordinate(x), coordinate(y), Factor(scale));
        xml.element("g", &[("transform", &placed)], |xml| (piece.draw)(xml));
        xml.line();
    }
}

/// A scale with four decimals: two would move the far edge by pixels.
struct Factor(f64);

impl std::fmt::Display for Factor {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.4}", if self.0.is_finite() { self.0 } else { 1.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::Set;

    #[test]
    fn a_long_text_is_set_smaller_and_never_cut() {
        let words = "a word ".repeat(60);
        let set = Set::fit(&words, (960.0, 1080.0), (0.044, 3), true);
        assert!(set.size < 40.0, "{}", set.size);
        assert_eq!(set.lines.join(" ").split(' ').count(), 120);
        assert_eq!(Set::fit("short", (960.0, 1080.0), (0.044, 3), true).lines, ["short"]);
    }
}

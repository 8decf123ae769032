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
/// Letters of a picture to pass on are no smaller, in its pixels, of which a phone shows three or more in one of its own.
pub(super) const LEAST: f64 = 22.0;
/// Shares of the width that the text may take where the drawing stands beside it, in a picture that is so many times as wide as high.
const BESIDE: [f64; 4] = [0.32, 0.38, 0.44, 0.5];
const WIDE: f64 = 1.5;
/// A drawing takes so much of the height at least.
const DRAWN: f64 = 0.25;

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
            let size = (largest * side * step).round().max(LEAST);
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
    /// With the drawing between question and notes, and beside both in a wide picture: all that have room for it.
    fn all(around: Around<'_>, size: (f64, f64)) -> Vec<Self> {
        let beside = BESIDE.into_iter().filter(|_| size.0 > WIDE * size.1);
        let mut pages: Vec<Self> = beside.filter_map(|share| Self::beside(around, size, share)).collect();
        let between = Self::between(around, size);
        if pages.is_empty() || between.inside.3 - between.inside.1 >= DRAWN * size.1 {
            pages.insert(0, between);
        }
        pages
    }

    fn between(around: Around<'_>, (width, height): (f64, f64)) -> Self {
        let side = width.min(height);
        let edge = (EDGE * side).round();
        let page = Self::set(around, (width - 2.0 * edge, side), [2, 3, 3, 1]);
        let (top, bottom) = (page.below_title(), page.above_note(height));
        Self { inside: (edge, top, width - edge, bottom), ..page }
    }

    /// `None` where the text has no room in so narrow a column.
    fn beside(around: Around<'_>, (width, height): (f64, f64), share: f64) -> Option<Self> {
        let side = width.min(height);
        let edge = (EDGE * side).round();
        let column = (share * (width - 2.0 * edge)).round();
        let page = Self::set(around, (column, side), [3, 5, 12, 3]);
        let left = edge + column + edge;
        let inside = (left, edge, width - edge, height - edge);
        (page.below_title() <= page.above_note(height)).then_some(Self { inside, ..page })
    }

    /// Question, title, note and source in lines of a width, each in as many at most as its letters are not made smaller for.
    fn set(around: Around<'_>, room: (f64, f64), [question, title, note, source]: [usize; 4]) -> Self {
        Self {
            question: Set::fit(around.question, room, (0.028, question), false),
            title: Set::fit(around.title, room, (0.044, title), true),
            note: Set::fit(around.note, room, (0.024, note), false),
            source: Set::fit(around.source, room, (0.022, source), false),
            edge: (EDGE * room.1).round(),
            inside: (0.0, 0.0, 0.0, 0.0),
        }
    }

    /// Where the drawing may begin below the title.
    fn below_title(&self) -> f64 {
        let (question, title) = (&self.question, &self.title);
        self.edge + question.height() + 0.3 * question.size + title.height() + 0.6 * title.size
    }

    /// Where it must end above the note.
    fn above_note(&self, height: f64) -> f64 {
        height - self.edge - self.source.height() - self.note.height() - 1.1 * self.note.size
    }
}

/// A picture cut in several ways, each into pieces that stand beside each other: how large the best of them is drawn.
pub(crate) fn scale(around: Around<'_>, cuts: &[Vec<Piece<'_>>], size: (f64, f64)) -> f64 {
    let pages = Page::all(around, size);
    let each = pages.iter().flat_map(|page| cuts.iter().map(|pieces| placed(pieces, page.inside).1));
    each.fold(0.0, f64::max)
}

/// The file, so many pixels wide and high, with the cut that is drawn largest.
pub(crate) fn card(around: Around<'_>, cuts: &[Vec<Piece<'_>>], (width, height): (f64, f64)) -> String {
    let pages = Page::all(around, (width, height));
    let each = pages.iter().flat_map(|page| cuts.iter().map(move |pieces| (page, pieces)));
    let each: Vec<(&Page, &Vec<Piece<'_>>)> = each.collect();
    let large = |(page, pieces): &(&Page, &Vec<Piece<'_>>)| placed(pieces, page.inside).1;
    // The first of those that are as large.
    let best = each.iter().rev().max_by(|a, b| large(a).total_cmp(&large(b)));
    let Some((Page { question, title, note, source, edge, inside }, pieces)) = best else {
        return String::new();
    };
    let (edge, inside) = (*edge, *inside);
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
    use super::{Around, LEAST, Page, Set};

    #[test]
    fn a_long_text_is_set_smaller_and_never_cut() {
        let words = "a word ".repeat(60);
        let set = Set::fit(&words, (960.0, 1080.0), (0.044, 3), true);
        assert!(set.size < 40.0 && set.size >= LEAST, "{}", set.size);
        assert_eq!(set.lines.join(" ").split(' ').count(), 120);
        assert_eq!(Set::fit("short", (960.0, 1080.0), (0.044, 3), true).lines, ["short"]);
    }

    /// From short ones to texts longer than those of any example, in all formats: letters are 22 px at least, no text leaves the picture or
    /// runs into another or into the drawing, and this has a quarter of the height.
    #[test]
    fn all_that_stands_around_a_drawing_can_be_read_and_keeps_its_place() {
        let words = |n: usize| "seven letters ".repeat(n);
        for (question, title, note) in [(3, 3, 4), (6, 10, 14), (7, 13, 24)] {
            let [question, title, note, source] = [question, title, note, 7].map(words);
            let around =
                Around { question: &question, title: &title, note: &note, source: &source, style: "" };
            for (width, height) in [(1080.0, 1080.0), (1200.0, 630.0), (1080.0, 1350.0)] {
                let pages = Page::all(around, (width, height));
                assert!(!pages.is_empty());
                for page in pages {
                    let (left, top, right, bottom) = page.inside;
                    for set in [&page.question, &page.title, &page.note, &page.source] {
                        assert!(set.size >= LEAST, "{}", set.size);
                    }
                    assert!(page.below_title() <= page.above_note(height) && bottom - top >= 0.25 * height);
                    assert!(left >= page.edge && right <= width - page.edge && right - left > 0.4 * width);
                    assert!(
                        left > page.edge || (page.below_title() <= top && bottom <= page.above_note(height))
                    );
                }
            }
        }
    }
}

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

/// The file, so many pixels wide and high.
pub(crate) fn card(around: Around<'_>, pieces: &[Piece<'_>], (width, height): (f64, f64)) -> String {
    let side = width.min(height);
    let edge = (EDGE * side).round();
    let room = (width - 2.0 * edge, side);
    let question = Set::fit(around.question, room, (0.028, 2), false);
    let title = Set::fit(around.title, room, (0.044, 3), true);
    let note = Set::fit(around.note, room, (0.024, 3), false);
    let source = Set::fit(around.source, room, (0.022, 1), false);
    let words: Vec<&str> = pieces.iter().map(|piece| piece.words.as_str()).collect();
    frame::card((around.title, &words.join(". ")), around.style, (width, height), |xml| {
        question.draw("soft", (edge, edge), xml);
        let mut top = edge + question.height() + 0.3 * question.size;
        title.draw("code", (edge, top), xml);
        top += title.height() + 0.6 * title.size;
        let foot = height - edge - source.height();
        source.draw("soft", (edge, foot), xml);
        let bottom = foot - note.height() - 0.5 * note.size;
        note.draw("soft", (edge, bottom), xml);
        drawings(pieces, (edge, top, width - edge, bottom - 0.6 * note.size), xml);
    })
}

/// The pieces in as many columns as make them largest, in a box of left, top, right and bottom.
fn drawings(pieces: &[Piece<'_>], (left, top, right, bottom): (f64, f64, f64, f64), xml: &mut Xml) {
    let wide = pieces.iter().map(|piece| piece.size.2).fold(0.0, f64::max);
    let high = pieces.iter().map(|piece| piece.size.3).fold(0.0, f64::max);
    let extent = |columns: usize| {
        let rows = pieces.len().div_ceil(columns) as f64;
        let columns = columns as f64;
        (columns * wide + (columns - 1.0) * GAP, rows * high + (rows - 1.0) * GAP)
    };
    let scale = |columns: usize| {
        let (w, h) = extent(columns);
        ((right - left) / w).min((bottom - top) / h)
    };
    let best = (1..=pieces.len()).max_by(|&a, &b| scale(a).total_cmp(&scale(b)));
    let Some(columns) = best else { return };
    let scale = scale(columns);
    // In the middle of its box, so that no edge looks forgotten.
    let (w, h) = extent(columns);
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

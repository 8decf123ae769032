//! The text of a study with its open sections filled in; every other letter of it stays as it is typed.

use super::Deal;
use crate::study::{Section, Study, Treatment};
use jiff::civil::Date;
use std::ops::Range;

/// A study whose map was dealt out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// Its text.
    pub text: String,
    /// The maps that were filled, line by line, and the line that says when.
    pub shown: Vec<String>,
}

/// Lines of other systems end otherwise.
const LINE_ENDS: [char; 2] = ['\n', '\r'];

/// The study's text with the names of what was dealt in place of each `?`, and a line that says when and from which
/// seed. Rows that are filled are drawn anew, so that their columns line up; remarks behind them stay.
pub fn drawn(text: &str, study: &Study, deal: &Deal, date: Date, seed: u64) -> Drawing {
    let mut edits: Vec<(Range<usize>, String)> = Vec::new();
    let mut shown = Vec::new();
    for (head, sections) in maps(study) {
        let before = edits.len();
        rows(text, study, &sections, deal, &mut edits);
        if edits.len() > before {
            shown.push(text[line_of(text, head)].trim_end().to_owned());
            shown.extend(edits[before..].iter().map(|(range, row)| {
                let line = line_of(text, range.start);
                format!("{}{row}{}", &text[line.start..range.start], text[range.end..line.end].trim_end())
            }));
        }
    }
    let first = deal.dealt.iter().map(|(id, _)| study.section(*id).span.range().start).min().unwrap_or(0);
    let last_row = last_of_block(text, first);
    let indent: String = text[last_row.clone()].chars().take_while(|c| c.is_whitespace()).collect();
    let behind = &text[last_row.end..];
    let line_end = ["\r\n", "\r"].into_iter().find(|end| behind.starts_with(end)).unwrap_or("\n");
    let placed = format!("{indent}placed {date}, seed {seed}");
    edits.push((last_row.end..last_row.end, format!("{line_end}{placed}")));
    shown.push(placed);
    edits.sort_by_key(|(range, _)| (range.start, range.end));
    let mut out = String::with_capacity(text.len() + 64);
    let mut from = 0;
    for (range, words) in edits {
        out.push_str(&text[from..range.start]);
        out.push_str(&words);
        from = range.end;
    }
    out.push_str(&text[from..]);
    Drawing { text: out, shown }
}

/// The drawn sections of each map, and where its head begins.
fn maps(study: &Study) -> Vec<(usize, Vec<&Section>)> {
    let drawn =
        |site| study.sections.iter().filter(move |one| one.row.is_some() && one.site == site).collect();
    study.grids.iter().map(|grid| (grid.span.range().start, drawn(grid.site))).collect()
}

/// The rows of one map, each with the words of its places, columns as wide as their widest word.
fn rows(
    text: &str,
    study: &Study,
    sections: &[&Section],
    deal: &Deal,
    edits: &mut Vec<(Range<usize>, String)>,
) {
    let mut lines: Vec<Range<usize>> =
        sections.iter().map(|section| line_of(text, section.span.range().start)).collect();
    lines.sort_by_key(|line| line.start);
    lines.dedup();
    let dealt = |at: usize| {
        deal.dealt
            .iter()
            .find(|(id, _)| study.section(*id).span.range().start == at)
            .map(|(_, treatment)| *treatment)
    };
    let cells: Vec<(Range<usize>, Vec<Cell>)> = lines
        .into_iter()
        .filter_map(|line| {
            let drawn = bars(text, line)?;
            let cells = words(text, drawn.clone());
            let cells = cells.into_iter().map(|word| Cell::of(text, study, word, dealt)).collect();
            Some((drawn, cells))
        })
        .collect();
    if cells.iter().all(|(_, row)| row.iter().all(|cell| !cell.dealt)) {
        return;
    }
    let columns = cells.iter().map(|(_, row)| row.len()).max().unwrap_or(0);
    let widths: Vec<usize> = (0..columns)
        .map(|column| cells.iter().filter_map(|(_, row)| row.get(column)).map(Cell::width).max().unwrap_or(0))
        .collect();
    for (drawn, row) in cells {
        edits.push((drawn, row_text(&row, &widths)));
    }
}

/// One place of a row.
struct Cell {
    word: String,
    /// True where a bar stands before it, inside the row.
    barred: bool,
    dealt: bool,
}

impl Cell {
    fn of(
        text: &str,
        study: &Study,
        (at, barred): (Range<usize>, bool),
        dealt: impl Fn(usize) -> Option<Treatment>,
    ) -> Self {
        let treatment = dealt(at.start);
        let word = treatment.map_or(&text[at], |treatment| study.treatment_name(treatment)).to_owned();
        Self { word, barred, dealt: treatment.is_some() }
    }

    fn width(&self) -> usize {
        self.word.chars().count()
    }
}

fn row_text(row: &[Cell], widths: &[usize]) -> String {
    let mut out = String::from("|");
    for (at, (cell, width)) in row.iter().zip(widths).enumerate() {
        out.push_str(match (at, cell.barred) {
            (0, _) => " ",
            (_, true) => " | ",
            (_, false) => "  ",
        });
        out.push_str(&cell.word);
        out.extend(std::iter::repeat_n(' ', width - cell.width()));
    }
    out.push_str(" |");
    out
}

/// From the first bar of a line to its last.
fn bars(text: &str, line: Range<usize>) -> Option<Range<usize>> {
    let drawn = &text[line.clone()];
    let drawn = &drawn[..drawn.find('#').unwrap_or(drawn.len())];
    let (first, last) = (drawn.find('|')?, drawn.rfind('|')?);
    // A row may end without a bar.
    let last =
        if last == first || !drawn[last + 1..].trim().is_empty() { drawn.trim_end().len() } else { last + 1 };
    Some(line.start + first..line.start + last)
}

/// The words of a row, each with whether a bar stands before it, apart from the first bar.
fn words(text: &str, drawn: Range<usize>) -> Vec<(Range<usize>, bool)> {
    let mut words: Vec<(Range<usize>, bool)> = Vec::new();
    let mut barred = false;
    let mut start = None;
    let apart = |c: char| c.is_whitespace() || c == '|' || c == ',';
    for (at, c) in text[drawn.clone()].char_indices().chain([(drawn.len(), '|')]) {
        if apart(c) {
            if let Some(from) = start.take() {
                words.push((drawn.start + from..drawn.start + at, barred && !words.is_empty()));
                barred = false;
            }
            barred |= c == '|';
        } else if start.is_none() {
            start = Some(at);
        }
    }
    words
}

/// The line around a byte, without its end.
fn line_of(text: &str, at: usize) -> Range<usize> {
    let start = text[..at].rfind(LINE_ENDS).map_or(0, |end| end + 1);
    let end = text[at..].find(LINE_ENDS).map_or(text.len(), |end| at + end);
    start..end
}

/// The last row or named section of the block around a byte: the lines that follow it, as long as they are indented.
fn last_of_block(text: &str, at: usize) -> Range<usize> {
    let mut last = line_of(text, at);
    let mut next = last.clone();
    while next.end < text.len() {
        next = line_of(text, next.end + 1);
        let line = &text[next.clone()];
        let indented = line.starts_with([' ', '\t']);
        if !line.trim().is_empty() && !indented {
            break;
        }
        let word = line.trim_start();
        if word.starts_with('|') || word.to_lowercase().starts_with("section") {
            last = next.clone();
        }
    }
    last
}

//! Points and intervals against zero, with the limits *alike* and *seen* as bands that carry their words.

use super::frame::{BOLD, cut, lines, text_width};
use super::plot::{self, Axis, line, mark, mark_classes, text};
use crate::markup::{Xml, coordinate};
use crate::report::{IntervalChart, IntervalRow};
use crate::speech::say;

/// Where things stand, in px: beside each other where there is room, above each other where there is none.
pub(crate) struct Layout {
    width: f64,
    /// Start and end of the axis.
    axis: (f64, f64),
    top: f64,
    row: f64,
    /// Whether name and word of a row stand above its line, and *alike* above *seen*.
    stacked: bool,
}

pub(crate) const WIDE: Layout =
    Layout { width: 720.0, axis: (190.0, 610.0), top: 48.0, row: 24.0, stacked: false };
/// For the screen of a phone, 360 px less its margins. The words at the limits have room on both sides of the axis.
pub(crate) const NARROW: Layout =
    Layout { width: 328.0, axis: (40.0, 288.0), top: 62.0, row: 42.0, stacked: true };

const SIZE: f64 = 13.0;
const LEADING: f64 = 20.0;
/// Where a name stands above its line, the name has so much of the row to itself, and no line of the picture runs through it.
const NAME: f64 = 20.0;

/// A text below the axis: its place along the picture, which end of it stands there, and its words.
type Below = (f64, &'static str, String);

impl Layout {
    fn bottom(&self, chart: &IntervalChart) -> f64 {
        self.top + chart.rows.len() as f64 * self.row
    }

    /// From where to where bands and lines of the limits run: from the top to the axis, or beside each interval alone.
    fn runs(&self, chart: &IntervalChart) -> Vec<(f64, f64)> {
        if !self.stacked {
            return vec![(self.top - 4.0, self.bottom(chart))];
        }
        let rows = (0..chart.rows.len()).map(|at| self.top + at as f64 * self.row);
        rows.map(|top| (top + NAME, top + self.row)).collect()
    }

    /// What both sides of the axis mean, then what it shows, line by line.
    fn below(&self, chart: &IntervalChart) -> Vec<Vec<Below>> {
        let (start, end) = if self.stacked { (0.0, self.width) } else { self.axis };
        let left = (start, "start", format!("← {}", chart.sides.0));
        let right = (end, "end", format!("{} →", chart.sides.1));
        let meet = (text_width(&left.2) + text_width(&right.2) + 1.0) * SIZE > end - start;
        let sides = if meet { vec![vec![left], vec![right]] } else { vec![vec![left, right]] };
        let middle = f64::midpoint(start, end);
        let shown = lines(&chart.axis, (end - start) / SIZE);
        sides.into_iter().chain(shown.into_iter().map(|words| vec![(middle, "middle", words)])).collect()
    }
}

pub(crate) fn size(chart: &IntervalChart, layout: &Layout) -> (f64, f64, f64, f64) {
    let below = layout.below(chart).len() as f64 * LEADING;
    (0.0, 0.0, layout.width, layout.bottom(chart) + below + 32.0)
}

pub(crate) fn draw(chart: &IntervalChart, layout: &Layout, xml: &mut Xml) {
    let ends = chart.rows.iter().flat_map(|row| {
        let (low, high) = row.interval.unwrap_or((row.value, row.value));
        [low, high, row.value]
    });
    let limits = [chart.alike, chart.seen].into_iter().flatten().flat_map(|limit| [-limit, limit]);
    let axis = Axis::nice(plot::bounds(ends.chain(limits)), layout.axis);
    let bottom = layout.bottom(chart);
    limits_of(chart, axis, layout, xml);
    for (tick, words) in axis.written(plot::signed, |words| text_width(words) * SIZE + 8.0) {
        let x = axis.at(tick);
        line(xml, "ink-line", 1.0, &[(x, bottom), (x, bottom + 5.0)]);
        text(xml, "soft tick", (x, bottom + 20.0), SIZE, "middle", &words);
    }
    for (from, to) in layout.runs(chart) {
        line(xml, "zero", 1.5, &[(axis.at(0.0), from), (axis.at(0.0), to)]);
    }
    for (at, words) in layout.below(chart).iter().enumerate() {
        for (x, anchor, words) in words {
            text(xml, "soft", (*x, bottom + 42.0 + at as f64 * LEADING), SIZE, anchor, words);
        }
    }
    xml.line();
    for (at, row) in chart.rows.iter().enumerate() {
        draw_row(row, axis, (layout, layout.top + at as f64 * layout.row), xml);
    }
}

// The band within *alike* is filled; beyond *seen* a dashed line bounds each side.
fn limits_of(chart: &IntervalChart, axis: Axis, layout: &Layout, xml: &mut Xml) {
    let (top, runs) = (layout.top, layout.runs(chart));
    if let Some(alike) = chart.alike {
        let (left, right) = (axis.at(-alike), axis.at(alike));
        let word = layout.stacked.then_some((top - 26.0, top - 4.0));
        for (from, to) in word.into_iter().chain(runs.iter().copied()) {
            let (x, y) = (coordinate(left), coordinate(from));
            let (w, h) = (coordinate(right - left), coordinate(to - from));
            xml.empty("rect", &[("x", &x), ("y", &y), ("width", &w), ("height", &h), ("class", &"alike")]);
            for x in [left, right] {
                line(xml, "alike-edge", 0.8, &[(x, from), (x, to)]);
            }
        }
        let above = if layout.stacked { 32.0 } else { 12.0 };
        text(xml, "soft", (axis.at(0.0), top - above), SIZE, "middle", say!("alike"));
    }
    let Some(seen) = chart.seen else { return };
    for (side, anchor, shift) in [(-1.0, "end", -6.0), (1.0, "start", 6.0)] {
        let x = axis.at(side * seen);
        let word = (top - 22.0, top - 4.0);
        let pieces = std::iter::once(word).chain(runs.iter().copied());
        let d = pieces.fold(String::new(), |d, (from, to)| {
            d + &format!("M{} {}V{}", coordinate(x), coordinate(from), coordinate(to))
        });
        xml.empty(
            "path",
            &[("d", &d), ("class", &"seen-edge"), ("stroke-width", &1.2), ("stroke-dasharray", &"5 4")],
        );
        text(xml, "soft", (x + shift, top - 12.0), SIZE, anchor, say!("seen"));
    }
}

fn draw_row(row: &IntervalRow, axis: Axis, (layout, top): (&Layout, f64), xml: &mut Xml) {
    let (stroke, fill) = mark_classes(row.mark);
    let class = if row.mark == 0 { "label-rest".to_owned() } else { fill };
    let (start, end) = layout.axis;
    let y = if layout.stacked { top + 29.0 } else { top + layout.row / 2.0 };
    if layout.stacked {
        let room = (layout.width / SIZE - text_width(&row.word) - 1.0) / BOLD;
        text(xml, &class, (2.0, top + 15.0), SIZE, "start", &cut(&row.name, room));
        text(xml, "soft", (layout.width, top + 15.0), SIZE, "end", &row.word);
    } else {
        text(xml, &class, (start - 16.0, y + 4.5), SIZE, "end", &cut(&row.name, (start - 24.0) / SIZE));
        text(xml, "soft", (end + 16.0, y + 4.5), SIZE, "start", &row.word);
    }
    if let Some((low, high)) = row.interval {
        let class = format!("line {stroke}");
        let (low, high) = (axis.at(low), axis.at(high));
        plot::line_of(xml, (&row.name, &class), 2.0, [(low, y), (high, y)].into_iter());
        for x in [low, high] {
            line(xml, &class, 2.0, &[(x, y - 4.0), (x, y + 4.0)]);
        }
    }
    mark(xml, row.mark, (axis.at(row.value), y), 5.5);
    xml.line();
}

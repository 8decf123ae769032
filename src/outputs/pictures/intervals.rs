//! Points and intervals against zero, with the limits *alike* and *seen* as bands that carry their words.

use super::frame::cut;
use super::plot::{self, Axis, line, mark, mark_classes, text};
use crate::markup::{Xml, coordinate};
use crate::report::{IntervalChart, IntervalRow};
use crate::speech::say;

const WIDTH: f64 = 720.0;
const NAMES: f64 = 190.0;
const WORDS: f64 = 110.0;
const TOP: f64 = 48.0;
const ROW: f64 = 24.0;

pub(crate) fn size(chart: &IntervalChart) -> (f64, f64, f64, f64) {
    (0.0, 0.0, WIDTH, TOP + chart.rows.len() as f64 * ROW + 72.0)
}

pub(crate) fn draw(chart: &IntervalChart, xml: &mut Xml) {
    let ends = chart.rows.iter().flat_map(|row| {
        let (low, high) = row.interval.unwrap_or((row.value, row.value));
        [low, high, row.value]
    });
    let limits = [chart.alike, chart.seen].into_iter().flatten().flat_map(|limit| [-limit, limit]);
    let axis = Axis::nice(plot::bounds(ends.chain(limits)), (NAMES, WIDTH - WORDS));
    let bottom = TOP + chart.rows.len() as f64 * ROW;
    limits_of(chart, axis, bottom, xml);
    for tick in axis.ticks() {
        let x = axis.at(tick);
        line(xml, "ink-line", 1.0, &[(x, bottom), (x, bottom + 5.0)]);
        text(xml, "soft tick", (x, bottom + 20.0), 13.0, "middle", &plot::signed(tick));
    }
    line(xml, "zero", 1.5, &[(axis.at(0.0), TOP - 4.0), (axis.at(0.0), bottom)]);
    text(xml, "soft", (NAMES, bottom + 42.0), 13.0, "start", &format!("← {}", chart.sides.0));
    text(xml, "soft", (WIDTH - WORDS, bottom + 42.0), 13.0, "end", &format!("{} →", chart.sides.1));
    text(xml, "soft", (f64::midpoint(NAMES, WIDTH - WORDS), bottom + 62.0), 13.0, "middle", &chart.axis);
    xml.line();
    for (at, row) in chart.rows.iter().enumerate() {
        draw_row(row, axis, TOP + (at as f64 + 0.5) * ROW, xml);
    }
}

// The band within *alike* is filled; beyond *seen* a dashed line bounds each side.
fn limits_of(chart: &IntervalChart, axis: Axis, bottom: f64, xml: &mut Xml) {
    if let Some(alike) = chart.alike {
        let (left, right) = (axis.at(-alike), axis.at(alike));
        let (x, y, w, h) = (
            coordinate(left),
            coordinate(TOP - 4.0),
            coordinate(right - left),
            coordinate(bottom - TOP + 4.0),
        );
        xml.empty("rect", &[("x", &x), ("y", &y), ("width", &w), ("height", &h), ("class", &"alike")]);
        for x in [left, right] {
            line(xml, "alike-edge", 0.8, &[(x, TOP - 4.0), (x, bottom)]);
        }
        text(xml, "soft", (axis.at(0.0), TOP - 12.0), 13.0, "middle", say!("alike"));
    }
    let Some(seen) = chart.seen else { return };
    for (side, anchor, shift) in [(-1.0, "end", -6.0), (1.0, "start", 6.0)] {
        let x = axis.at(side * seen);
        let d = format!("M{} {}V{}", coordinate(x), coordinate(TOP - 22.0), coordinate(bottom));
        xml.empty(
            "path",
            &[("d", &d), ("class", &"seen-edge"), ("stroke-width", &1.2), ("stroke-dasharray", &"5 4")],
        );
        text(xml, "soft", (x + shift, TOP - 26.0 + 14.0), 13.0, anchor, say!("seen"));
    }
}

fn draw_row(row: &IntervalRow, axis: Axis, y: f64, xml: &mut Xml) {
    let (stroke, fill) = mark_classes(row.mark);
    let name = if row.mark == 0 { "label-rest".to_owned() } else { fill };
    text(xml, &name, (NAMES - 16.0, y + 4.5), 13.0, "end", &cut(&row.name, (NAMES - 24.0) / 13.0));
    if let Some((low, high)) = row.interval {
        let class = format!("line {stroke}");
        let (low, high) = (axis.at(low), axis.at(high));
        plot::line_of(xml, (&row.name, &class), 2.0, [(low, y), (high, y)].into_iter());
        for x in [low, high] {
            line(xml, &class, 2.0, &[(x, y - 4.0), (x, y + 4.0)]);
        }
    }
    mark(xml, row.mark, (axis.at(row.value), y), 5.5);
    text(xml, "soft", (WIDTH - WORDS + 16.0, y + 4.5), 13.0, "start", &row.word);
    xml.line();
}

//! Places before and after preparation: open before, full after, and what must be left.

use super::plot::{self, Axis, line, line_of, text};
use crate::markup::{Attributes, Xml, coordinate};
use crate::report::{RemovedChart, RemovedRow};
use crate::speech::say;

const WIDTH: f64 = 340.0;
const SIZE: f64 = 13.0;
const ROW: f64 = 16.0;
const NAMES: f64 = 76.0;
const TOP: f64 = 24.0;

pub(super) fn size(chart: &RemovedChart) -> (f64, f64, f64, f64) {
    (0.0, 0.0, WIDTH, bottom(chart) + 42.0)
}

fn bottom(chart: &RemovedChart) -> f64 {
    TOP + chart.rows.len() as f64 * ROW
}

pub(super) fn draw(chart: &RemovedChart, xml: &mut Xml) {
    let bottom = bottom(chart);
    let of = |row: &RemovedRow| {
        let (low, high) = row.interval.unwrap_or((row.after, row.after));
        [row.before, row.after, low, high]
    };
    let values = chart.rows.iter().flat_map(of).chain(chart.leave.iter().map(|leave| leave.0));
    let data = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    let axis = Axis::coarse(data, (NAMES, WIDTH - 20.0));
    for tick in axis.ticks() {
        let x = axis.at(tick);
        line(xml, "hair", 1.0, &[(x, TOP), (x, bottom)]);
        text(xml, "soft tick", (x, bottom + 16.0), SIZE, "middle", &plot::plain(tick));
    }
    let words = say!("{axis}, not from 0", axis = chart.axis);
    text(xml, "soft", (f64::midpoint(NAMES, WIDTH - 20.0), bottom + 34.0), SIZE, "middle", &words);
    if let Some((leave, words)) = &chart.leave {
        let x = axis.at(*leave);
        let d = plot::path_of([(x, TOP - 4.0), (x, bottom)].into_iter());
        let attributes: Attributes<'_> = &[
            ("d", &d),
            ("class", &"seen-edge"),
            ("stroke-width", &1.5),
            ("stroke-dasharray", &"5 4"),
            ("data-of", &"leave"),
        ];
        xml.empty("path", attributes);
        let anchor = if x < WIDTH / 2.0 { "start" } else { "end" };
        text(xml, "soft", (x, TOP - 9.0), SIZE, anchor, words);
    }
    xml.line();
    for (at, row) in chart.rows.iter().enumerate() {
        draw_row(row, axis, TOP + (at as f64 + 0.5) * ROW, xml);
    }
}

fn draw_row(row: &RemovedRow, axis: Axis, y: f64, xml: &mut Xml) {
    let class = if row.interval.is_some() { "code" } else { "soft" };
    text(xml, class, (0.0, y + 4.5), SIZE, "start", &row.name);
    let (before, after) = (axis.at(row.before), axis.at(row.after));
    line_of(xml, (&row.name, "line line-rest"), 1.0, [(before, y), (after, y)].into_iter());
    if let Some((low, high)) = row.interval {
        let (low, high) = (axis.at(low), axis.at(high));
        line_of(xml, ("interval", "ink-line"), 2.0, [(low, y), (high, y)].into_iter());
        for x in [low, high] {
            line(xml, "ink-line", 2.0, &[(x, y - 4.0), (x, y + 4.0)]);
        }
    }
    for (x, class) in [(before, "open ink-line"), (after, "ink")] {
        let (x, y) = (coordinate(x), coordinate(y));
        xml.empty(
            "circle",
            &[("cx", &x), ("cy", &y), ("r", &3.4), ("class", &class), ("stroke-width", &1.4)],
        );
    }
    xml.line();
}

//! Time to spent: a line a section, full while it held, a hatched box where it failed, an arrow where it still held.

use super::frame::cut;
use super::plot::{Axis, line, line_of, mark, mark_classes, text};
use crate::markup::{Attributes, Xml, coordinate};
use crate::report::{SpentChart, SpentRow, Until};

const WIDTH: f64 = 720.0;
const NAMES: f64 = 190.0;
const CODES: f64 = 56.0;
const TOP: f64 = 28.0;
const ROW: f64 = 18.0;

pub(crate) fn size(chart: &SpentChart) -> (f64, f64, f64, f64) {
    (0.0, 0.0, WIDTH, bottom(chart) + 24.0)
}

fn bottom(chart: &SpentChart) -> f64 {
    let groups = chart.rows.iter().filter(|row| row.first).count();
    TOP + chart.rows.len() as f64 * ROW + groups as f64 * 6.0
}

/// Draws the chart; the name of its place on the page keeps its hatch apart from that of another.
pub(crate) fn draw(chart: &SpentChart, place: &str, xml: &mut Xml) {
    let hatched = format!("{place}-hatch");
    let axis = Axis::new((0.0, chart.last), (NAMES + CODES, WIDTH - 32.0));
    let bottom = bottom(chart);
    hatch(&hatched, xml);
    let mut free = f64::NEG_INFINITY;
    for (day, name) in &chart.rounds {
        let x = axis.at(*day);
        line(xml, "hair", 1.0, &[(x, TOP - 4.0), (x, bottom)]);
        let half = super::frame::text_width(name) * 13.0 / 2.0;
        if x - half > free {
            text(xml, "soft tick", (x, TOP - 12.0), 13.0, "middle", name);
            free = x + half + 6.0;
        }
    }
    xml.line();
    let mut y = TOP;
    for row in &chart.rows {
        if row.first {
            y += 6.0;
        }
        draw_row(row, axis, (y + ROW / 2.0, &hatched), xml);
        y += ROW;
    }
}

fn hatch(id: &str, xml: &mut Xml) {
    xml.element("defs", &[], |xml| {
        let attributes: Attributes<'_> = &[
            ("id", &id),
            ("width", &5),
            ("height", &5),
            ("patternUnits", &"userSpaceOnUse"),
            ("patternTransform", &"rotate(45)"),
        ];
        xml.element("pattern", attributes, |xml| {
            xml.empty("rect", &[("width", &5), ("height", &5), ("class", &"paper")]);
            xml.empty("path", &[("d", &"M2 0V5"), ("class", &"ink-line"), ("stroke-width", &1.2)]);
        });
    });
}

fn draw_row(row: &SpentRow, axis: Axis, (y, hatched): (f64, &str), xml: &mut Xml) {
    let (stroke, fill) = mark_classes(row.mark);
    if row.first {
        let class = if row.mark == 0 { "label-rest".to_owned() } else { fill };
        text(xml, &class, (NAMES - 16.0, y + 4.5), 13.0, "end", &cut(&row.name, (NAMES - 24.0) / 13.0));
    }
    text(xml, "soft", (NAMES, y + 4.5), 13.0, "start", &row.code);
    let class = format!("line {stroke}");
    let (start, held) = (axis.at(0.0), axis.at(row.held));
    line_of(xml, (&row.code, &class), 3.0, [(start, y), (held, y)].into_iter());
    match row.until {
        Until::Spent(spent) => draw_box((held, axis.at(spent)), (y, hatched), xml),
        Until::Open => {
            line(xml, &class, 3.0, &[(held, y), (held + 14.0, y)]);
            line(xml, &class, 2.0, &[(held + 9.0, y - 5.0), (held + 15.0, y), (held + 9.0, y + 5.0)]);
        }
        Until::Gone => {
            for way in [-1.0, 1.0] {
                line(xml, &class, 2.0, &[(held - 4.5, y - 4.5 * way), (held + 4.5, y + 4.5 * way)]);
            }
        }
    }
    if row.mark != 0 {
        mark(xml, row.mark, (start, y), 4.0);
    }
    xml.line();
}

fn draw_box((held, spent): (f64, f64), (y, hatched): (f64, &str), xml: &mut Xml) {
    let (x, top, w) = (coordinate(held), coordinate(y - 5.0), coordinate((spent - held).max(1.0)));
    let fill = format!("fill:url(#{hatched})");
    let attributes: Attributes<'_> = &[
        ("x", &x),
        ("y", &top),
        ("width", &w),
        ("height", &10),
        ("class", &"ink-line"),
        ("stroke-width", &1),
        ("style", &fill),
    ];
    xml.empty("rect", attributes);
}

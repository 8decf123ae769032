//! Time until spent: a line a section, full while it held, a hatched box where it failed, an arrow where it still held.

use super::frame::{BOLD, Piece, cut, text_width};
use super::plot::{Axis, line, line_of, mark, mark_classes, text};
use crate::markup::{Attributes, Xml, coordinate};
use crate::report::{SpentChart, SpentRow, Until};

/// Where things stand, in px: names beside the lines, or above those of their treatment where there is no room.
#[derive(Clone, Copy)]
pub(crate) struct Layout {
    width: f64,
    /// Start of the codes, and start and end of the axis.
    codes: f64,
    axis: (f64, f64),
    stacked: bool,
}

const TOP: f64 = 28.0;
const ROW: f64 = 18.0;
const SIZE: f64 = 13.0;
/// The screen of a phone, 360 px less its margins.
const PHONE: f64 = 328.0;
/// One of several columns of a picture to pass on, and where its codes begin.
const COLUMN: (f64, f64) = (430.0, 140.0);
/// Room for an arrow behind the axis.
const ARROW: f64 = 16.0;
/// Letters of other fonts may be a tenth wider.
const WIDER: f64 = 1.1;

impl Layout {
    pub(crate) fn wide() -> Self {
        Self { width: 720.0, codes: 190.0, axis: (246.0, 688.0), stacked: false }
    }

    pub(crate) fn narrow(chart: &SpentChart) -> Self {
        Self { width: PHONE, codes: 2.0, axis: axis(chart, PHONE, 0.0), stacked: true }
    }

    fn column(chart: &SpentChart) -> Self {
        let (width, codes) = COLUMN;
        Self { width, codes, axis: axis(chart, width, codes), stacked: false }
    }

    /// What the first row of a treatment has above it: its name, or a little room.
    fn head(self) -> f64 {
        if self.stacked { 22.0 } else { 6.0 }
    }
}

/// Codes get what they need, and so does the name of the last round, which stands over the end of the axis.
fn axis(chart: &SpentChart, width: f64, left: f64) -> (f64, f64) {
    let codes = chart.rows.iter().map(|row| text_width(&row.code)).fold(2.0, f64::max);
    let last = chart.rounds.last().map_or(0.0, |(_, name)| text_width(name));
    (left + codes * SIZE + 10.0, width - (WIDER * last * SIZE / 2.0).max(ARROW))
}

/// The chart in so many columns of a picture to pass on, or whole.
pub(super) fn columns<'a>(chart: &SpentChart, columns: usize, place: &str, words: &str) -> Vec<Piece<'a>> {
    let parts = parts(chart, columns);
    let layout = if parts.len() > 1 { Layout::column(chart) } else { Layout::wide() };
    let piece = |(at, part): (usize, SpentChart)| piece(part, layout, format!("{place}-{at}"), words);
    parts.into_iter().enumerate().map(piece).collect()
}

/// The chart whole and as narrow as one of several columns, so that its letters come out larger where there is height.
pub(super) fn narrow<'a>(chart: &SpentChart, place: &str, words: &str) -> Vec<Piece<'a>> {
    vec![piece(chart.clone(), Layout::column(chart), format!("{place}-0"), words)]
}

fn piece<'a>(chart: SpentChart, layout: Layout, place: String, words: &str) -> Piece<'a> {
    Piece {
        words: words.to_owned(),
        size: size(&chart, layout),
        draw: Box::new(move |xml| draw(&chart, (layout, &place), xml)),
    }
}

/// The chart cut into so many of about as many rows, each with the same axis; between treatments where one begins nearby.
pub(super) fn parts(chart: &SpentChart, parts: usize) -> Vec<SpentChart> {
    let rows = chart.rows.len();
    let near = (rows / parts.max(1) / 4).max(1);
    let cut = |part: usize| {
        let even = part * rows / parts;
        let starts = (0..rows).filter(|&at| chart.rows[at].first && at.abs_diff(even) <= near);
        if part == parts { rows } else { starts.min_by_key(|at| at.abs_diff(even)).unwrap_or(even) }
    };
    let whole = (1..=parts).filter_map(|part| {
        let mut own = chart.rows[cut(part - 1)..cut(part)].to_vec();
        own.first_mut()?.first = true;
        Some(SpentChart { rows: own, ..chart.clone() })
    });
    whole.collect()
}

/// Size of its letters, in its own unit.
pub(super) const LETTERS: f64 = SIZE;

pub(crate) fn size(chart: &SpentChart, layout: Layout) -> (f64, f64, f64, f64) {
    (0.0, 0.0, layout.width, bottom(chart, layout) + 24.0)
}

fn bottom(chart: &SpentChart, layout: Layout) -> f64 {
    let groups = chart.rows.iter().filter(|row| row.first).count();
    TOP + chart.rows.len() as f64 * ROW + groups as f64 * layout.head()
}

/// Draws the chart; the name of its place on the page keeps its hatch apart from that of another.
pub(crate) fn draw(chart: &SpentChart, (layout, place): (Layout, &str), xml: &mut Xml) {
    let hatched = format!("{place}-hatch");
    let axis = Axis::new((0.0, chart.last), layout.axis);
    let bottom = bottom(chart, layout);
    hatch(&hatched, xml);
    let mut free = 0.0;
    for (day, name) in &chart.rounds {
        let x = axis.at(*day);
        line(xml, "hair", 1.0, &[(x, TOP - 4.0), (x, bottom)]);
        let half = WIDER * text_width(name) * SIZE / 2.0;
        if x - half >= free {
            text(xml, "soft tick", (x, TOP - 12.0), SIZE, "middle", name);
            free = x + half + 6.0;
        }
    }
    xml.line();
    let mut y = TOP;
    for row in &chart.rows {
        if row.first {
            y += layout.head();
            name(row, (layout, y), xml);
        }
        draw_row(row, axis, (layout.codes, y + ROW / 2.0, &hatched), xml);
        y += ROW;
    }
}

/// The name of a treatment at the first of its rows, which begins at `y`.
fn name(row: &SpentRow, (layout, y): (Layout, f64), xml: &mut Xml) {
    let class = if row.mark == 0 { "label-rest".to_owned() } else { mark_classes(row.mark).1 };
    if layout.stacked {
        text(xml, &class, (2.0, y - 4.0), SIZE, "start", &cut(&row.name, layout.width / SIZE / BOLD));
    } else {
        let end = layout.codes - 16.0;
        text(xml, &class, (end, y + ROW / 2.0 + 4.5), SIZE, "end", &cut(&row.name, (end - 8.0) / SIZE));
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

fn draw_row(row: &SpentRow, axis: Axis, (codes, y, hatched): (f64, f64, &str), xml: &mut Xml) {
    let (stroke, _) = mark_classes(row.mark);
    text(xml, "soft", (codes, y + 4.5), SIZE, "start", &row.code);
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

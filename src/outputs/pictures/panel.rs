//! The panel round by round: small ones side by side, and one large that a slider turns where scripts run.

use super::frame::{self, BOLD, text_width};
use super::plot::{line, text};
use crate::markup::{Xml, coordinate};
use crate::report::{PanelChart, PanelPlace, PanelRound, Shape};
use crate::speech::say;

const GAP: f64 = 16.0;
const HEAD: f64 = 22.0;
/// Half of a line at the edge of the picture.
const EDGE: f64 = 1.0;

/// What a picture has room for, in px.
pub(super) struct Layout {
    width: f64,
    /// Most small panels beside each other, and how many a panel alone is wide.
    columns: (usize, f64),
    /// Small panels grow no higher than this for their codes.
    highest: f64,
    /// Swatches of the scale beside each other.
    swatches: usize,
    /// Letters of the large panel are no smaller.
    least: f64,
}

pub(super) const WIDE: Layout =
    Layout { width: 720.0, columns: (4, 3.0), highest: 480.0, swatches: 4, least: 0.0 };
/// The screen of a phone, 360 px less its margins.
const NARROW: Layout =
    Layout { width: 326.0, columns: (2, 1.0), highest: f64::INFINITY, swatches: 2, least: 11.2 };

impl Layout {
    fn foot(&self) -> f64 {
        16.0 + 24.0 * (4.0 / self.swatches as f64)
    }
}

/// How a panel is put into the picture: mm times `scale`, moved to `at`.
#[derive(Clone, Copy)]
struct Fit {
    at: (f64, f64),
    scale: f64,
    origin: (f64, f64),
}

impl Fit {
    fn x(self, mm: f64) -> f64 {
        self.at.0 + (mm - self.origin.0) * self.scale
    }

    fn y(self, mm: f64) -> f64 {
        self.at.1 + (mm - self.origin.1) * self.scale
    }
}

/// As many panels side by side as there is room for; fewer where only then every section has room for its code.
fn columns(chart: &PanelChart, layout: &Layout) -> usize {
    let most = chart.rounds.len().clamp(1, layout.columns.0);
    let (left, _, right, _) = chart.bounds;
    let written = |columns: usize| {
        let scale = small(chart, columns, layout).0 / (right - left);
        chart.places.iter().all(|place| has_room(place, scale))
            && height(chart, columns, layout) <= layout.highest
    };
    (2..=most).rev().find(|&columns| written(columns)).unwrap_or(most)
}

/// Width and height of one small panel, so many side by side.
fn small(chart: &PanelChart, columns: usize, layout: &Layout) -> (f64, f64) {
    let (left, top, right, bottom) = chart.bounds;
    let columns = if chart.rounds.len() < 2 { layout.columns.1 } else { columns as f64 };
    let width = (layout.width - GAP * (columns - 1.0)) / columns;
    (width, width * (bottom - top) / (right - left))
}

fn height(chart: &PanelChart, columns: usize, layout: &Layout) -> f64 {
    chart.rounds.len().div_ceil(columns) as f64 * (HEAD + small(chart, columns, layout).1 + GAP)
        + layout.foot()
}

pub(super) fn size(chart: &PanelChart, layout: &Layout) -> (f64, f64, f64, f64) {
    (-EDGE, 0.0, layout.width + 2.0 * EDGE, height(chart, columns(chart, layout), layout))
}

/// Whether every section has room for its code on the screen of a phone.
pub(super) fn has_narrow(chart: &PanelChart) -> bool {
    let (left, _, right, _) = chart.bounds;
    chart.places.iter().all(|place| has_room(place, NARROW.width / (right - left)))
}

/// Both drawings, each for a wide screen and for a phone. The large one shows the last round; where scripts run, a slider
/// turns it through all of them, and the small ones are not needed. Paper has the small ones.
pub(crate) fn draw(chart: &PanelChart, title: &str) -> String {
    let layouts = if has_narrow(chart) { &[WIDE, NARROW][..] } else { &[WIDE] };
    let fits = if has_narrow(chart) { "fits " } else { "" };
    let many = |layout| frame::inline(title, size(chart, layout), |xml| draw_small(chart, layout, xml));
    let many: String = layouts.iter().map(many).collect();
    let mut xml = Xml::new();
    let class = format!("{fits}turn-many");
    xml.element("div", &[("class", &class)], |xml| xml.markup(&many));
    if chart.rounds.len() < 2 {
        return xml.finish();
    }
    let one = |layout| frame::inline(title, large_size(chart, layout), |xml| draw_large(chart, layout, xml));
    let one: String = layouts.iter().map(one).collect();
    let last = chart.rounds.len() - 1;
    let class = format!("{fits}turn");
    xml.element("div", &[("class", &class), ("data-turn", &last)], |xml| xml.markup(&one));
    xml.finish()
}

pub(super) fn draw_small(chart: &PanelChart, layout: &Layout, xml: &mut Xml) {
    let columns = columns(chart, layout);
    let (width, high) = small(chart, columns, layout);
    let (left, top, right, _) = chart.bounds;
    for (n, round) in chart.rounds.iter().enumerate() {
        let (row, column) = (n / columns, n % columns);
        let x = column as f64 * (width + GAP);
        let y = row as f64 * (HEAD + high + GAP) + HEAD;
        text(xml, "soft", (x, y - 7.0), 13.0, "start", &round.name);
        let fit = Fit { at: (x, y), scale: width / (right - left), origin: (left, top) };
        panel(chart, round, fit, xml);
        for (place, value) in chart.places.iter().zip(&round.values) {
            code(place, value.as_ref(), (chart, fit), xml);
        }
        xml.line();
    }
    scale(chart, layout, size(chart, layout).3, xml);
}

fn large_size(chart: &PanelChart, layout: &Layout) -> (f64, f64, f64, f64) {
    let (left, top, right, bottom) = chart.bounds;
    let high = layout.width * (bottom - top) / (right - left);
    (-EDGE, 0.0, layout.width + 2.0 * EDGE, HEAD + high + GAP + layout.foot())
}

fn draw_large(chart: &PanelChart, layout: &Layout, xml: &mut Xml) {
    let (left, top, right, _) = chart.bounds;
    let fit = Fit { at: (0.0, HEAD), scale: layout.width / (right - left), origin: (left, top) };
    for (n, round) in chart.rounds.iter().enumerate() {
        let class = if n + 1 == chart.rounds.len() { "frame" } else { "frame off" };
        xml.element("g", &[("class", &class), ("data-name", &round.name)], |xml| {
            text(xml, "code", (0.0, HEAD - 7.0), 13.0, "start", &round.name);
            panel(chart, round, fit, xml);
            for (place, value) in chart.places.iter().zip(&round.values) {
                write(place, value.as_ref(), (chart, layout, fit), xml);
            }
        });
        xml.line();
    }
    scale(chart, layout, large_size(chart, layout).3, xml);
}

fn panel(chart: &PanelChart, round: &PanelRound, fit: Fit, xml: &mut Xml) {
    if let Some(outline) = &chart.panel {
        shape(outline, "heat-panel", fit, xml);
    }
    for (place, value) in chart.places.iter().zip(&round.values) {
        if let Some((change, _)) = value {
            let class = format!("heat-{}", step(*change, chart.most));
            shape(&place.shape, &class, fit, xml);
            continue;
        }
        shape(&place.shape, "heat-none", fit, xml);
        let (left, top, right, bottom) = bounds(&place.shape);
        line(xml, "line-rest", 1.0, &[(fit.x(left), fit.y(top)), (fit.x(right), fit.y(bottom))]);
        line(xml, "line-rest", 1.0, &[(fit.x(left), fit.y(bottom)), (fit.x(right), fit.y(top))]);
    }
}

/// The step of the scale, 0 to 3, that a change lies in.
fn step(change: f64, most: f64) -> u8 {
    let share = change.abs() / most;
    [0.25, 0.5, 0.75].into_iter().map(|end| u8::from(share > end)).sum()
}

/// Size of the codes on a small panel: 9 pt on paper, where the picture is 182 mm wide.
const CODE: f64 = 12.8;

/// The code of a section on a small panel, where it has room and something to be written on.
fn code(place: &PanelPlace, value: Option<&(f64, String)>, (chart, fit): (&PanelChart, Fit), xml: &mut Xml) {
    let (left, top, right, bottom) = bounds(&place.shape);
    let Some((change, _)) = value else { return };
    if has_room(place, fit.scale) {
        let class = if step(*change, chart.most) == 3 { "heat-light code" } else { "heat-dark code" };
        let (x, y) = (fit.x(f64::midpoint(left, right)), fit.y(f64::midpoint(top, bottom)));
        text(xml, class, (x, y + 0.36 * CODE), CODE, "middle", &place.code);
    }
}

fn has_room(place: &PanelPlace, scale: f64) -> bool {
    let (left, top, right, bottom) = bounds(&place.shape);
    (right - left) * scale > text_width(&place.code) * CODE * BOLD && (bottom - top) * scale > CODE
}

fn write(
    place: &PanelPlace,
    value: Option<&(f64, String)>,
    (chart, layout, fit): (&PanelChart, &Layout, Fit),
    xml: &mut Xml,
) {
    let (left, top, right, bottom) = bounds(&place.shape);
    let (x, y) = (fit.x(f64::midpoint(left, right)), fit.y(f64::midpoint(top, bottom)));
    let (words, class) = match value {
        Some((change, words)) if step(*change, chart.most) == 3 => (words.as_str(), "heat-light"),
        Some((_, words)) => (words.as_str(), "heat-dark"),
        None => ("–", "heat-dark"),
    };
    let (wide, high) = ((right - left) * fit.scale * 0.9, (bottom - top) * fit.scale);
    let size = |share: f64, text: f64| (wide / text.max(1.0)).min(high * share).min(15.0);
    let both = text_width(words).max(text_width(&place.code));
    let bold = format!("{class} code");
    if layout.least <= 0.0 || size(0.45, both) >= layout.least {
        let size = if layout.least > 0.0 { layout.least } else { size(0.36, both) };
        text(xml, &bold, (x, y - 0.15 * size), size, "middle", &place.code);
        text(xml, class, (x, y + 0.95 * size), size, "middle", words);
    } else {
        // Where two lines would be too small to read, the code alone leads to the tables.
        let size = size(0.8, BOLD * text_width(&place.code)).min(13.0);
        text(xml, &bold, (x, y + 0.36 * size), size, "middle", &place.code);
    }
}

/// The four steps of the scale at the foot of a picture so high, each with its range.
fn scale(chart: &PanelChart, layout: &Layout, high: f64, xml: &mut Xml) {
    let mut from = "0".to_owned();
    for (n, to) in chart.steps.iter().enumerate() {
        let (row, column) = (n / layout.swatches, n % layout.swatches);
        let x = column as f64 * layout.width / layout.swatches as f64;
        let top = high - layout.foot() + 10.0 + 24.0 * row as f64;
        let box_of = Shape::Rectangle { x, y: top, width: 24.0, height: 16.0 };
        shape(&box_of, &format!("heat-{n}"), Fit { at: (0.0, 0.0), scale: 1.0, origin: (0.0, 0.0) }, xml);
        let range = say!("{from} to {to} {unit}", from, to, unit = chart.unit);
        let (beside, size) = if layout.least > 0.0 { (28.0, 12.0) } else { (32.0, 13.0) };
        text(xml, "soft", (x + beside, top + 12.5), size, "start", &range);
        from.clone_from(to);
    }
}

fn bounds(shape: &Shape) -> (f64, f64, f64, f64) {
    match shape {
        Shape::Rectangle { x, y, width, height } => (*x, *y, x + width, y + height),
        Shape::Circle { x, y, across } => {
            (x - across / 2.0, y - across / 2.0, x + across / 2.0, y + across / 2.0)
        }
        Shape::Polygon { corners } => corners
            .iter()
            .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |a, p| {
                (a.0.min(p.0), a.1.min(p.1), a.2.max(p.0), a.3.max(p.1))
            }),
    }
}

fn shape(shape: &Shape, class: &str, fit: Fit, xml: &mut Xml) {
    match shape {
        Shape::Rectangle { x, y, width, height } => {
            let (x, y) = (coordinate(fit.x(*x)), coordinate(fit.y(*y)));
            let (w, h) = (coordinate(width * fit.scale), coordinate(height * fit.scale));
            xml.empty("rect", &[("x", &x), ("y", &y), ("width", &w), ("height", &h), ("class", &class)]);
        }
        Shape::Circle { x, y, across } => {
            let (x, y, r) =
                (coordinate(fit.x(*x)), coordinate(fit.y(*y)), coordinate(across / 2.0 * fit.scale));
            xml.empty("circle", &[("cx", &x), ("cy", &y), ("r", &r), ("class", &class)]);
        }
        Shape::Polygon { corners } => {
            let points =
                corners.iter().map(|&(x, y)| format!("{},{}", coordinate(fit.x(x)), coordinate(fit.y(y))));
            let points = points.collect::<Vec<String>>().join(" ");
            xml.empty("polygon", &[("points", &points), ("class", &class)]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::step;

    #[test]
    fn steps_are_quarters_of_the_largest_change() {
        assert_eq!(
            [0.0, -2.5, 2.6, -5.0, 5.1, 7.6, -10.0].map(|change| step(change, 10.0)),
            [0, 0, 1, 1, 2, 3, 3]
        );
    }
}

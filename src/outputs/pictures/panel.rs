//! The panel round by round: small ones side by side, and one large that a slider turns where scripts run.

use super::frame::{self, BOLD, text_width};
use super::plot::{line, text};
use crate::markup::{Attributes, Xml, coordinate};
use crate::report::{PanelChart, PanelPlace, PanelRound, Shape};
use crate::speech::say;

const WIDTH: f64 = 720.0;
const GAP: f64 = 16.0;
const HEAD: f64 = 22.0;
const FOOT: f64 = 40.0;
/// Room for a swatch with its writing.
const SWATCH: f64 = WIDTH / 4.0;
/// Half of a line at the edge of the picture.
const EDGE: f64 = 1.0;
/// A picture of small panels grows no higher than this for their codes.
const HIGHEST: f64 = 480.0;

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
fn columns(chart: &PanelChart) -> usize {
    let most = chart.rounds.len().clamp(1, 4);
    let (left, _, right, _) = chart.bounds;
    let written = |columns: usize| {
        let scale = small(chart, columns).0 / (right - left);
        chart.places.iter().all(|place| has_room(place, scale)) && height(chart, columns) <= HIGHEST
    };
    (2..=most).rev().find(|&columns| written(columns)).unwrap_or(most)
}

/// Width and height of one small panel, so many side by side.
fn small(chart: &PanelChart, columns: usize) -> (f64, f64) {
    let (left, top, right, bottom) = chart.bounds;
    let columns = if chart.rounds.len() < 2 { 3.0 } else { columns as f64 };
    let width = (WIDTH - GAP * (columns - 1.0)) / columns;
    (width, width * (bottom - top) / (right - left))
}

fn height(chart: &PanelChart, columns: usize) -> f64 {
    chart.rounds.len().div_ceil(columns) as f64 * (HEAD + small(chart, columns).1 + GAP) + FOOT
}

pub(super) fn size(chart: &PanelChart) -> (f64, f64, f64, f64) {
    (-EDGE, 0.0, WIDTH + 2.0 * EDGE, height(chart, columns(chart)))
}

/// Both drawings. The large one shows the last round; where scripts run, a slider turns it through all of
/// them, and the small ones are not needed. Paper has the small ones.
pub(crate) fn draw(chart: &PanelChart, title: &str) -> String {
    let many = frame::inline(title, size(chart), |xml| draw_small(chart, xml));
    if chart.rounds.len() < 2 {
        return many;
    }
    let mut xml = Xml::new();
    xml.element("div", &[("class", &"turn-many")], |xml| {
        xml.markup(&many);
    });
    let last = chart.rounds.len() - 1;
    let turned: Attributes<'_> = &[("class", &"turn"), ("data-turn", &last)];
    xml.element("div", turned, |xml| {
        xml.markup(&frame::inline(title, large_size(chart), |xml| draw_large(chart, xml)));
    });
    xml.finish()
}

pub(super) fn draw_small(chart: &PanelChart, xml: &mut Xml) {
    let columns = columns(chart);
    let (width, high) = small(chart, columns);
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
    scale(chart, size(chart).3 - FOOT, xml);
}

fn large_size(chart: &PanelChart) -> (f64, f64, f64, f64) {
    let (left, top, right, bottom) = chart.bounds;
    (-EDGE, 0.0, WIDTH + 2.0 * EDGE, HEAD + WIDTH * (bottom - top) / (right - left) + GAP + FOOT)
}

fn draw_large(chart: &PanelChart, xml: &mut Xml) {
    let (left, top, right, _) = chart.bounds;
    let fit = Fit { at: (0.0, HEAD), scale: WIDTH / (right - left), origin: (left, top) };
    for (n, round) in chart.rounds.iter().enumerate() {
        let class = if n + 1 == chart.rounds.len() { "frame" } else { "frame off" };
        xml.element("g", &[("class", &class), ("data-name", &round.name)], |xml| {
            text(xml, "code", (0.0, HEAD - 7.0), 13.0, "start", &round.name);
            panel(chart, round, fit, xml);
            for (place, value) in chart.places.iter().zip(&round.values) {
                write(&place.shape, (&place.code, value.as_ref()), (chart, fit), xml);
            }
        });
        xml.line();
    }
    scale(chart, large_size(chart).3 - FOOT, xml);
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
    place: &Shape,
    (code, value): (&str, Option<&(f64, String)>),
    (chart, fit): (&PanelChart, Fit),
    xml: &mut Xml,
) {
    let (left, top, right, bottom) = bounds(place);
    let (x, y) = (fit.x(f64::midpoint(left, right)), fit.y(f64::midpoint(top, bottom)));
    let (words, class) = match value {
        Some((change, words)) if step(*change, chart.most) == 3 => (words.as_str(), "heat-light"),
        Some((_, words)) => (words.as_str(), "heat-dark"),
        None => ("–", "heat-dark"),
    };
    let room = (right - left) * fit.scale * 0.9;
    let size = (room / text_width(words).max(text_width(code)).max(1.0))
        .min((bottom - top) * fit.scale * 0.36)
        .min(15.0);
    text(xml, &format!("{class} code"), (x, y - 0.15 * size), size, "middle", code);
    text(xml, class, (x, y + 0.95 * size), size, "middle", words);
}

/// The four steps of the scale, each with its range.
fn scale(chart: &PanelChart, top: f64, xml: &mut Xml) {
    let mut from = "0".to_owned();
    for (n, to) in chart.steps.iter().enumerate() {
        let x = n as f64 * SWATCH;
        let box_of = Shape::Rectangle { x, y: top + 10.0, width: 24.0, height: 16.0 };
        shape(&box_of, &format!("heat-{n}"), Fit { at: (0.0, 0.0), scale: 1.0, origin: (0.0, 0.0) }, xml);
        text(
            xml,
            "soft",
            (x + 32.0, top + 22.5),
            13.0,
            "start",
            &say!("{from} to {to} {unit}", from, to, unit = chart.unit),
        );
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

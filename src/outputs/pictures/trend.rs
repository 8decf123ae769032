//! Levels along the panel: a point a section, and the slope of the plane through all of them.

use super::frame::{Piece, text_width};
use super::plot::{self, Axis, line, line_of, text};
use crate::markup::Xml;
use crate::report::{TrendChart, TrendWay};
use crate::speech::say;

const WIDTH: f64 = 340.0;
const SIZE: f64 = 13.0;
const TOP: f64 = 8.0;
const BOTTOM: f64 = 74.0;

/// Both directions on one scale of levels, each a picture of its own.
pub(super) fn pieces<'a>(chart: &'a TrendChart) -> Vec<Piece<'a>> {
    let levels = chart
        .ways
        .iter()
        .flat_map(|way| way.points.iter().map(|point| point.2).chain(way.line.iter().map(|end| end.1)));
    let (low, high) =
        levels.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    let y = Axis::coarse((low, high), (BOTTOM, TOP));
    let piece = |way: &'a TrendWay| {
        let draw = Box::new(move |xml: &mut Xml| draw_way(chart, way, y, xml));
        Piece { words: way.words.clone(), size: (0.0, 0.0, WIDTH, BOTTOM + 24.0), draw }
    };
    chart.ways.iter().map(piece).collect()
}

fn draw_way(chart: &TrendChart, way: &TrendWay, y: Axis, xml: &mut Xml) {
    let widest = y.ticks().into_iter().map(|tick| text_width(&plot::plain(tick))).fold(0.0, f64::max);
    let (left, right) = (widest * SIZE + 12.0, WIDTH - 6.0);
    let x = Axis::new((way.line[0].0, way.line[1].0), (left, right));
    for tick in y.ticks() {
        let at = y.at(tick);
        line(xml, "hair", 1.0, &[(left, at), (right, at)]);
        text(xml, "soft tick", (left - 6.0, at + 4.5), SIZE, "end", &plot::plain(tick));
    }
    for (code, place, level) in &way.points {
        let at = (x.at(*place), y.at(*level));
        let d = plot::path_of(std::iter::once(at)) + "h0";
        xml.empty("path", &[("d", &d), ("class", &"dot dot-reading line-rest"), ("data-of", &code)]);
    }
    let ends = way.line.iter().map(|(place, level)| (x.at(*place), y.at(*level)));
    line_of(xml, ("plane", "ink-line"), 1.5, ends);
    text(xml, "soft", (left, BOTTOM + 18.0), SIZE, "start", &way.ends.0);
    text(xml, "soft", (right, BOTTOM + 18.0), SIZE, "end", &way.ends.1);
    let words = say!("{axis}, not from 0", axis = chart.unit);
    text(xml, "soft", (f64::midpoint(left, right), BOTTOM + 18.0), SIZE, "middle", &words);
    xml.line();
}

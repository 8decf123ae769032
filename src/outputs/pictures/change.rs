//! Change over time: one chart, at most five products marked, the rest grey and named, bare sections as a band.

use super::frame::{cut, text_width};
use super::plot::{self, Axis, line, mark, mark_classes, text};
use crate::markup::Xml;
use crate::report::{ChangeChart, Series};

const WIDTH: f64 = 720.0;
const LEFT: f64 = 56.0;
const TOP: f64 = 28.0;
const NAMES: f64 = 190.0;
const STEP: f64 = 16.0;

struct Plot<'a> {
    chart: &'a ChangeChart,
    x: Axis,
    y: Axis,
    height: f64,
}

pub(crate) fn size(chart: &ChangeChart) -> (f64, f64, f64, f64) {
    (0.0, 0.0, WIDTH, TOP + height(chart) + 44.0)
}

// The names at the right need a line each, so many products make a higher chart.
fn height(chart: &ChangeChart) -> f64 {
    ((chart.series.len() + 1) as f64 * STEP).max(300.0)
}

pub(crate) fn draw(chart: &ChangeChart, xml: &mut Xml) {
    let height = height(chart);
    let days = chart.rounds.iter().map(|(x, _)| *x);
    let first = days.clone().fold(f64::INFINITY, f64::min);
    let last = days.fold(f64::NEG_INFINITY, f64::max);
    let values = chart.series.iter().flat_map(|series| series.points.iter().flatten().map(|p| p.1));
    let band = chart.band.iter().flat_map(|b| [b.1, b.2]);
    let (low, high) = plot::bounds(values.chain(band).chain([-chart.least, chart.least]));
    let plot = Plot {
        chart,
        x: Axis::new((first, last), (LEFT, WIDTH - NAMES - 12.0)),
        y: Axis::nice((low, high), (TOP + height, TOP)),
        height,
    };
    plot.grid(xml);
    plot.band(xml);
    for series in chart.series.iter().filter(|series| series.mark == 0) {
        plot.series(series, xml);
    }
    for series in chart.series.iter().filter(|series| series.mark != 0) {
        plot.series(series, xml);
    }
    plot.names(xml);
}

impl Plot<'_> {
    fn grid(&self, xml: &mut Xml) {
        text(xml, "soft", (0.0, 14.0), 13.0, "start", &self.chart.axis);
        let (left, right) = (LEFT, self.x.at(self.x.to));
        for tick in self.y.ticks() {
            let y = self.y.at(tick);
            let zero = tick.abs() < 1e-9 * (self.y.to - self.y.from).abs();
            line(
                xml,
                if zero { "zero" } else { "hair" },
                if zero { 1.5 } else { 1.0 },
                &[(left, y), (right, y)],
            );
            text(xml, "soft", (left - 8.0, y + 4.5), 13.0, "end", &plot::signed(tick));
        }
        let bottom = TOP + self.height;
        let mut free = f64::NEG_INFINITY;
        for (day, name) in &self.chart.rounds {
            let x = self.x.at(*day);
            line(xml, "ink-line", 1.0, &[(x, bottom), (x, bottom + 5.0)]);
            let half = text_width(name) * 13.0 / 2.0;
            // Rounds that lie close together keep their tick; the name of the later one is left out.
            if x - half > free {
                text(xml, "soft", (x, bottom + 20.0), 13.0, "middle", name);
                free = x + half + 6.0;
            }
        }
        xml.line();
    }

    fn band(&self, xml: &mut Xml) {
        let band = &self.chart.band;
        if band.is_empty() {
            return;
        }
        let upper = band.iter().map(|&(x, _, high, _)| (self.x.at(x), self.y.at(high)));
        let lower = band.iter().rev().map(|&(x, low, ..)| (self.x.at(x), self.y.at(low)));
        let d = plot::path_of(upper.chain(lower)) + "z";
        xml.empty("path", &[("d", &d), ("class", &"band")]);
        let mean: Vec<(f64, f64)> =
            band.iter().map(|&(x, _, _, mean)| (self.x.at(x), self.y.at(mean))).collect();
        let d = plot::path_of(mean.into_iter());
        xml.empty(
            "path",
            &[("d", &d), ("class", &"band-edge"), ("stroke-width", &2), ("stroke-dasharray", &"2 3")],
        );
        xml.line();
    }

    fn series(&self, series: &Series, xml: &mut Xml) {
        let (stroke, _) = mark_classes(series.mark);
        let class = format!("line {stroke}");
        let width = if series.mark == 0 { 1.2 } else { 2.2 };
        for run in series.points.split(Option::is_none).filter(|run| run.len() > 1) {
            let points: Vec<(f64, f64)> =
                run.iter().flatten().map(|&(x, y)| (self.x.at(x), self.y.at(y))).collect();
            line(xml, &class, width, &points);
        }
        for (x, y) in series.points.iter().flatten() {
            if series.mark != 0 {
                mark(xml, series.mark, (self.x.at(*x), self.y.at(*y)), 4.5);
            }
        }
        xml.line();
    }

    // Each name stands at the height of its last point, moved as little as keeps names apart.
    fn names(&self, xml: &mut Xml) {
        let mut ends: Vec<(f64, (f64, f64), &str, u8)> = Vec::new();
        for series in &self.chart.series {
            if let Some(&(x, y)) = series.points.iter().flatten().last() {
                ends.push((self.y.at(y), (self.x.at(x), self.y.at(y)), &series.name, series.mark));
            }
        }
        if let Some(&(x, _, _, mean)) = self.chart.band.last() {
            ends.push((self.y.at(mean), (self.x.at(x), self.y.at(mean)), &self.chart.band_word, 255));
        }
        ends.sort_by(|a, b| a.0.total_cmp(&b.0));
        let heights: Vec<f64> = ends.iter().map(|end| end.0).collect();
        let places = plot::apart(&heights, STEP, (TOP, TOP + self.height));
        let at = WIDTH - NAMES;
        for ((_, end, name, number), y) in ends.into_iter().zip(places) {
            let class = if number == 255 { "band-edge" } else { "hair" };
            line(xml, class, 1.0, &[(end.0 + 6.0, end.1), (at - 4.0, y), (at + 2.0, y)]);
            let shown = cut(name, (NAMES - 26.0) / 13.0);
            if (1..=5).contains(&number) {
                mark(xml, number, (at + 9.0, y), 4.5);
            }
            let class = match number {
                255 => "band-word code".to_owned(),
                0 => "label-rest".to_owned(),
                n => format!("f{n}"),
            };
            text(xml, &class, (at + 20.0, y + 4.5), 13.0, "start", &shown);
        }
    }
}

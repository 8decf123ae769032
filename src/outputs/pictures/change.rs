//! Change over time: a small panel for each treatment on one scale, its sections as thin lines, bare sections as a band.

use super::frame::{BOLD, Piece, cut, lines, text_width};
use super::plot::{self, Axis, line, mark, mark_classes, text};
use crate::markup::{Attributes, Xml};
use crate::report::{ChangeChart, ChangePanel, Mark};
use std::rc::Rc;

const WIDTH: f64 = 136.0;
const SIZE: f64 = 13.0;
const LINE: f64 = 16.0;
/// Height of the plot; a single step after the start needs less.
const PLOT: f64 = 84.0;
const STEP: f64 = 44.0;
const RIGHT: f64 = 5.0;
/// The name of the first round begins so far before the axis.
const BEFORE: f64 = 8.0;
/// Letters of other fonts may be a tenth wider: so much of the room is taken as there.
const WIDER: f64 = 0.9;
/// Room for the mark in front of the name.
const MARK: f64 = 14.0;

/// What all panels have in common.
pub(super) struct Panels<'a> {
    chart: &'a ChangeChart,
    x: Axis,
    y: Axis,
    /// Lines that the longest name takes.
    names: usize,
    /// Whether mean and number of sections have a line each.
    parted: bool,
}

impl<'a> Panels<'a> {
    pub(super) fn new(chart: &'a ChangeChart) -> Self {
        let days = chart.rounds.iter().map(|(x, _)| *x);
        let first = days.clone().fold(f64::INFINITY, f64::min);
        let last = days.fold(f64::NEG_INFINITY, f64::max);
        let lines_of = |panel: &'a ChangePanel| panel.sections.iter().map(|series| &series.points);
        let points = chart.panels.iter().flat_map(|panel| lines_of(panel).chain([&panel.mean]));
        let values = points.flat_map(|points| points.iter().flatten().map(|point| point.1));
        let band = chart.band.iter().flat_map(|b| [b.1, b.2]);
        let data = plot::bounds(values.chain(band).chain([-chart.least, chart.least]));
        let names = chart.panels.iter().map(|panel| name_lines(panel).len()).max().unwrap_or(1);
        let parted = chart.panels.iter().any(|panel| text_width(&panel.told) > WIDER * WIDTH / SIZE);
        let told = if parted { 2.0 } else { 1.0 };
        let top = (names as f64 + told) * LINE + 8.0;
        let high = if chart.rounds.len() > 2 { PLOT } else { STEP };
        let y = Axis::coarse(data, (top + high, top));
        let widest = y.ticks().into_iter().map(|tick| text_width(&plot::signed(tick))).fold(0.0, f64::max);
        let x = Axis::new((first, last), (widest * SIZE + 8.0, WIDTH - RIGHT));
        Self { chart, x, y, names, parted }
    }

    pub(super) fn size(&self) -> (f64, f64) {
        let below = if self.is_level() { 22.0 } else { 22.0 + LINE };
        (WIDTH, self.y.at(self.y.from) + below)
    }

    /// First and last round.
    fn ends(&self) -> Option<(&str, &str)> {
        let (first, last) = (self.chart.rounds.first()?, self.chart.rounds.last()?);
        Some((&first.1, &last.1))
    }

    /// Whether the names of both stand on one line below the axis.
    fn is_level(&self) -> bool {
        let room = WIDER * (WIDTH - RIGHT - self.x.at(self.x.from) + BEFORE) / SIZE;
        self.ends().is_none_or(|(first, last)| text_width(first) + text_width(last) + text_width(" ") < room)
    }

    pub(super) fn draw(&self, panel: &ChangePanel, xml: &mut Xml) {
        self.grid(xml);
        self.band(xml);
        let (stroke, _) = classes(panel.mark);
        if panel.sections.len() > 1 {
            for series in &panel.sections {
                self.line((&series.code, &series.points), (&stroke, 0.8), xml);
            }
            let points = panel.sections.iter().flat_map(|series| series.points.iter().flatten());
            self.dots(points, &stroke, xml);
        }
        self.line(("mean", &panel.mean), (&stroke, 2.2), xml);
        if let Some(Some((x, y))) = panel.mean.get(panel.at) {
            let at = (self.x.at(*x), self.y.at(*y));
            match panel.mark {
                Some(number) => mark(xml, number, at, 4.0),
                None => self.dots(std::iter::once(&(*x, *y)), "dot-large band-edge", xml),
            }
        }
        self.head(panel, xml);
    }

    fn grid(&self, xml: &mut Xml) {
        let (left, right) = (self.x.at(self.x.from), self.x.at(self.x.to));
        for tick in self.y.ticks() {
            let y = self.y.at(tick);
            let zero = tick.abs() < 1e-9 * (self.y.to - self.y.from).abs();
            let (class, width) = if zero { ("zero", 1.5) } else { ("hair", 1.0) };
            line(xml, class, width, &[(left, y), (right, y)]);
            text(xml, "soft tick", (left - 6.0, y + 4.5), SIZE, "end", &plot::signed(tick));
        }
        let bottom = self.y.at(self.y.from);
        let ticks = self.chart.rounds.iter().map(|(day, _)| self.x.at(*day));
        let d: String = ticks.map(|x| plot::path_of([(x, bottom), (x, bottom + 4.0)].into_iter())).collect();
        xml.empty("path", &[("d", &d), ("class", &"ink-line"), ("stroke-width", &1)]);
        let Some((first, last)) = self.ends() else { return };
        let (level, beyond) = (bottom + 18.0, if self.is_level() { 0.0 } else { LINE });
        // Where the first one needs the room of both, it may begin below the numbers of the axis.
        let start = if beyond > 0.0 {
            (right - 1.06 * text_width(first) * SIZE).clamp(0.0, left - BEFORE)
        } else {
            left - BEFORE
        };
        text(xml, "soft", (start, level), SIZE, "start", &cut(first, WIDTH / SIZE));
        text(xml, "soft", (right, level + beyond), SIZE, "end", &cut(last, WIDTH / SIZE));
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
        let mean = band.iter().map(|&(x, _, _, mean)| (self.x.at(x), self.y.at(mean)));
        let d = plot::path_of(mean);
        let attributes: Attributes<'_> =
            &[("d", &d), ("class", &"band-edge"), ("stroke-width", &1.5), ("stroke-dasharray", &"2 3")];
        xml.empty("path", attributes);
    }

    // No line leads over a round that was not read.
    fn line(&self, (of, points): (&str, &[Option<(f64, f64)>]), (stroke, width): (&str, f64), xml: &mut Xml) {
        let place = |&(x, y): &(f64, f64)| (self.x.at(x), self.y.at(y));
        for run in points.split(Option::is_none).filter(|run| !run.is_empty()) {
            let class = format!("line {stroke}");
            plot::line_of(xml, (of, &class), width, run.iter().flatten().map(place));
        }
    }

    // A line of no length has round ends and no middle, so it is a dot.
    fn dots<'p>(&self, points: impl Iterator<Item = &'p (f64, f64)>, class: &str, xml: &mut Xml) {
        let dot = |&(x, y): &(f64, f64)| plot::path_of(std::iter::once((self.x.at(x), self.y.at(y)))) + "h0";
        let d: String = points.map(dot).collect();
        let class = format!("dot {class}");
        xml.empty("path", &[("d", &d), ("class", &class)]);
    }

    fn head(&self, panel: &ChangePanel, xml: &mut Xml) {
        let marked = panel.mark.filter(|mark| *mark != 0);
        let mut left = 0.0;
        if let Some(number) = marked {
            mark(xml, number, (5.0, 9.0), 4.5);
            left = MARK;
        }
        let class = marked.map_or_else(|| "code".to_owned(), |number| format!("f{number}"));
        for (at, words) in name_lines(panel).iter().enumerate() {
            text(xml, &class, (left, 13.0 + at as f64 * LINE), SIZE, "start", words);
        }
        let y = 13.0 + self.names as f64 * LINE;
        let told =
            if self.parted { panel.told.splitn(2, " · ").collect() } else { vec![panel.told.as_str()] };
        for (at, words) in told.iter().enumerate() {
            text(xml, "soft", (0.0, y + at as f64 * LINE), SIZE, "start", &cut(words, WIDTH / SIZE));
        }
        xml.line();
    }
}

/// Every panel as a picture of its own, so that a narrow page has fewer beside each other.
pub(super) fn pieces(chart: &ChangeChart) -> Vec<Piece<'_>> {
    let panels = Rc::new(Panels::new(chart));
    let (width, height) = panels.size();
    let piece = |panel| {
        let panels = Rc::clone(&panels);
        let draw = Box::new(move |xml: &mut Xml| panels.draw(panel, xml));
        Piece { words: panel.alternative.clone(), size: (0.0, 0.0, width, height), draw }
    };
    chart.panels.iter().map(piece).collect()
}

fn classes(mark: Option<Mark>) -> (String, String) {
    mark.map_or_else(|| ("band-edge".to_owned(), "band-word".to_owned()), mark_classes)
}

/// The name in two lines at most.
fn name_lines(panel: &ChangePanel) -> Vec<String> {
    let room = if panel.mark.is_some_and(|mark| mark != 0) { WIDTH - MARK } else { WIDTH } / SIZE / BOLD;
    let mut all = lines(&panel.name, room);
    if all.len() > 2 {
        let rest = all.split_off(1).join(" ");
        all.push(rest);
    }
    all.iter().map(|line| cut(line, room)).collect()
}

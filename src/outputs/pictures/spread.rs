//! Spread of readings: a row a section, a point a reading, around the mean of the section.

use super::frame::{BOLD, Piece, cut, text_width};
use super::plot::{self, Axis, line, mark, text};
use crate::markup::{Attributes, Xml, coordinate};
use crate::report::{SpreadChart, SpreadRow};
use crate::speech::say;

const WIDTH: f64 = 340.0;
const SIZE: f64 = 13.0;
const ROW: f64 = 14.0;
const NAMES: f64 = 142.0;
const TOP: f64 = 6.0;
/// Room for the value of a reading that lies beyond the axis.
const BEYOND: f64 = 44.0;
/// Equal readings lie so far above each other.
const APART: f64 = 3.0;

/// Rows in two columns, each a picture of its own, so that a narrow page has one below the other.
pub(super) fn pieces(chart: &SpreadChart) -> Vec<Piece<'_>> {
    let axis = axis(chart);
    let piece = |rows| {
        let bottom = TOP + rows_high(rows);
        let draw = Box::new(move |xml: &mut Xml| columns(chart, rows, axis, xml));
        Piece { words: words(rows), size: (0.0, 0.0, WIDTH, bottom + 8.0 + under(chart, axis)), draw }
    };
    halves(&chart.rows).into_iter().filter(|rows| !rows.is_empty()).map(piece).collect()
}

fn words(rows: &[SpreadRow]) -> String {
    let codes: Vec<&str> = rows.iter().map(|row| row.code.as_str()).collect();
    let readings: usize = rows.iter().map(|row| row.readings.len()).sum();
    say!(
        "{readings} readings on {sections}, each against the mean of its section",
        readings,
        sections = codes.join(", ")
    )
}

fn label(chart: &SpreadChart) -> String {
    say!("less its mean, {unit}", unit = chart.unit)
}

/// From the last row down to the words for the axis: beside its first number where there is room, else below it.
fn under(chart: &SpreadChart, axis: Axis) -> f64 {
    let room = axis
        .ticks()
        .first()
        .map_or(WIDTH, |&tick| axis.at(tick) - text_width(&plot::signed(tick)) * SIZE / 2.0 - 6.0);
    if text_width(&label(chart)) * SIZE < room { 16.0 } else { 32.0 }
}

fn rows_high(rows: &[SpreadRow]) -> f64 {
    rows.len() as f64 * ROW
}

/// All sections of a treatment stay together.
fn halves(rows: &[SpreadRow]) -> [&[SpreadRow]; 2] {
    let middle = rows.len().div_ceil(2);
    let ends = (1..rows.len()).filter(|&at| rows[at].first);
    let end = ends.min_by_key(|&at| at.abs_diff(middle)).unwrap_or(rows.len());
    let (left, right) = rows.split_at(end);
    [left, right]
}

fn axis(chart: &SpreadChart) -> Axis {
    let code = chart.rows.iter().map(|row| text_width(&row.code)).fold(0.0, f64::max) * SIZE;
    let off = |row: &SpreadRow| row.readings.iter().map(|value| value - row.mean).collect::<Vec<f64>>();
    let far = chart.rows.iter().flat_map(off).map(f64::abs).fold(0.0, f64::max);
    let data = (-far, far);
    let (left, right) = (NAMES + code + 10.0, WIDTH - 20.0);
    let axis = Axis::coarse(data, (left, right));
    // What lies beyond has its own room, so that it does not press the others together.
    let beyond = |is: fn(f64, Axis) -> bool| {
        let off = |row: &SpreadRow| row.left_out.iter().any(|(value, _)| is(value - row.mean, axis));
        if chart.rows.iter().any(off) { BEYOND } else { 0.0 }
    };
    let (below, above) = (beyond(|off, axis| off < axis.from), beyond(|off, axis| off > axis.to));
    Axis::coarse(data, (left + below, right - above))
}

fn holds(axis: Axis, value: f64) -> bool {
    (axis.from..=axis.to).contains(&value)
}

fn columns(chart: &SpreadChart, rows: &[SpreadRow], axis: Axis, xml: &mut Xml) {
    let bottom = TOP + rows_high(rows);
    let ticks = axis.ticks();
    let wide = |tick: &f64| text_width(&plot::signed(*tick)) * SIZE + 6.0;
    let widest = ticks.iter().map(wide).fold(0.0, f64::max);
    let apart = axis.at(1.0) - axis.at(0.0);
    let step = ticks.windows(2).next().map_or(1.0, |pair| pair[1] - pair[0]);
    for tick in ticks {
        let (x, words) = (axis.at(tick), plot::signed(tick));
        let zero = tick.abs() < 1e-9 * (axis.to - axis.from);
        line(xml, if zero { "zero" } else { "hair" }, 1.0, &[(x, TOP), (x, bottom)]);
        // Where room lacks, every other line has its number, zero among them.
        let even = (tick / step / 2.0).fract().abs() < 1e-6;
        if even || step * apart > widest {
            text(xml, "soft tick", (x, bottom + 16.0), SIZE, "middle", &words);
        }
    }
    text(xml, "soft", (0.0, bottom + under(chart, axis)), SIZE, "start", &label(chart));
    xml.line();
    for (at, row) in rows.iter().enumerate() {
        draw_row(row, axis, TOP + (at as f64 + 0.5) * ROW, xml);
        xml.line();
    }
}

fn draw_row(row: &SpreadRow, axis: Axis, y: f64, xml: &mut Xml) {
    let number = row.mark.unwrap_or(0);
    if row.first {
        let marked = number != 0;
        if marked {
            mark(xml, number, (5.0, y), 4.5);
        }
        let (class, left) = if marked { (format!("f{number}"), 14.0) } else { ("code".to_owned(), 0.0) };
        let name = cut(&row.name, (NAMES - left - 4.0) / SIZE / BOLD);
        text(xml, &class, (left, y + 4.5), SIZE, "start", &name);
    }
    text(xml, "soft", (NAMES, y + 4.5), SIZE, "start", &row.code);
    let stroke = match row.mark {
        Some(0) => "line-rest".to_owned(),
        Some(number) => format!("s{number}"),
        None => "band-edge".to_owned(),
    };
    let d: String = stacked(&row.readings)
        .map(|(value, shift)| plot::path_of(std::iter::once((axis.at(value - row.mean), y + shift))) + "h0")
        .collect();
    let class = format!("dot dot-reading {stroke}");
    xml.empty("path", &[("d", &d), ("class", &class), ("data-of", &row.code)]);
    for (value, words) in &row.left_out {
        left_out(value - row.mean, words, axis, (y, &stroke), xml);
    }
}

/// Every reading with its shift, so that equal ones do not hide each other.
fn stacked(readings: &[f64]) -> impl Iterator<Item = (f64, f64)> {
    readings.iter().enumerate().map(|(at, value)| {
        let equal = |other: &&f64| (*other - value).abs() < 1e-9;
        let before = readings[..at].iter().filter(equal).count() as f64;
        let all = readings.iter().filter(equal).count() as f64;
        // Rows are 14 high, and what is stacked stays in its own.
        (*value, (before - (all - 1.0) / 2.0) * APART.min(11.0 / all))
    })
}

// Beyond the axis it stands at the edge with its value.
fn left_out(off: f64, words: &str, axis: Axis, (y, stroke): (f64, &str), xml: &mut Xml) {
    let inside = holds(axis, off);
    let x = match off {
        off if inside => axis.at(off),
        off if off < axis.from => axis.at(axis.from) - BEYOND + 6.0,
        _ => axis.at(axis.to) + BEYOND - 6.0,
    };
    let (cx, cy) = (coordinate(x), coordinate(y));
    let class = format!("open {stroke}");
    let attributes: Attributes<'_> =
        &[("cx", &cx), ("cy", &cy), ("r", &3.2), ("class", &class), ("stroke-width", &1.4)];
    xml.empty("circle", attributes);
    if !inside {
        let (shift, anchor) = if off < axis.from { (6.0, "start") } else { (-6.0, "end") };
        text(xml, "soft", (x + shift, y + 4.5), SIZE, anchor, words);
    }
}

#[cfg(test)]
mod tests {
    use super::stacked;

    #[test]
    fn equal_readings_lie_above_each_other() {
        let found: Vec<(f64, f64)> = stacked(&[1.0, 2.0, 1.0]).collect();
        assert_eq!(found, [(1.0, -1.5), (2.0, 0.0), (1.0, 1.5)]);
    }
}

//! What charts share: axes with round ticks, marks by shape and colour, lines and texts.

use crate::markup::{Attributes, Xml, coordinate};
use crate::report::fixed_number;

/// A straight scale from data to the picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Axis {
    /// Data at the start.
    pub(crate) from: f64,
    /// Data at the end.
    pub(crate) to: f64,
    start: f64,
    end: f64,
    step: f64,
}

impl Axis {
    /// From data to picture, without rounding.
    pub(crate) fn new(data: (f64, f64), picture: (f64, f64)) -> Self {
        let (from, to) = if data.1 - data.0 > 0.0 { data } else { (data.0 - 1.0, data.0 + 1.0) };
        Self { from, to, start: picture.0, end: picture.1, step: step((to - from) / 6.0) }
    }

    /// The same, widened to whole steps.
    pub(crate) fn nice(data: (f64, f64), picture: (f64, f64)) -> Self {
        let raw = Self::new(data, picture);
        let from = (raw.from / raw.step - 1e-9).floor() * raw.step;
        let to = (raw.to / raw.step + 1e-9).ceil() * raw.step;
        Self { from, to, ..raw }
    }

    /// With two ticks to six and a little room beyond the data, for small pictures.
    pub(crate) fn coarse(data: (f64, f64), picture: (f64, f64)) -> Self {
        let room = 0.04 * (data.1 - data.0);
        let raw = Self::new((data.0 - room, data.1 + room), picture);
        // A step of half the range at most has two ticks, wherever the range begins.
        let half = (raw.to - raw.from) / 2.0;
        let power = 10f64.powf(half.log10().floor());
        let step = [5.0, 2.0, 1.0].into_iter().map(|n| n * power).find(|&step| step <= half);
        Self { step: step.unwrap_or(power), ..raw }
    }

    /// Where a value lies in the picture.
    pub(crate) fn at(self, value: f64) -> f64 {
        self.start + (value - self.from) / (self.to - self.from) * (self.end - self.start)
    }

    /// Round values on it.
    pub(crate) fn ticks(self) -> Vec<f64> {
        let first = (self.from / self.step - 1e-9).ceil();
        let count = ((self.to / self.step + 1e-9).floor() - first).clamp(0.0, 40.0);
        (0..=40_u8).map(f64::from).take_while(|&n| n <= count).map(|n| (first + n) * self.step).collect()
    }

    /// The round values with their words: all of them, or every second, third and on where so many words have no room.
    /// Zero is among them where it is on the axis.
    pub(crate) fn written(
        self,
        words: impl Fn(f64) -> String,
        width: impl Fn(&str) -> f64,
    ) -> Vec<(f64, String)> {
        let ticks: Vec<(f64, String)> = self.ticks().into_iter().map(|tick| (tick, words(tick))).collect();
        let zero = ticks.iter().position(|(tick, _)| tick.abs() < 1e-9 * self.step).unwrap_or(0);
        let every = |n: usize| {
            let kept = ticks.iter().enumerate().filter(move |(at, _)| at.abs_diff(zero) % n == 0);
            kept.map(|(_, tick)| tick.clone()).collect::<Vec<_>>()
        };
        let fits = |kept: &Vec<(f64, String)>| {
            let mut pairs = kept.iter().zip(kept.iter().skip(1));
            pairs.all(|((a, left), (b, right))| {
                self.at(*b) - self.at(*a) >= f64::midpoint(width(left), width(right))
            })
        };
        (1..=ticks.len()).map(every).find(fits).unwrap_or(ticks)
    }
}

// A step of 1, 2 or 5 times a power of ten.
fn step(about: f64) -> f64 {
    let power = 10f64.powf(about.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|n| n * power).find(|&n| n >= about).unwrap_or(10.0 * power)
}

/// Lowest and highest of the values and of zero, which is always in view.
pub(crate) fn bounds(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((0.0, 0.0), |(low, high), value| (f64::min(low, value), f64::max(high, value)))
}

/// A tick with as many decimals as it needs.
pub(crate) fn plain(tick: f64) -> String {
    let decimals =
        (0..4).find(|&n| (tick * 10f64.powi(n) - (tick * 10f64.powi(n)).round()).abs() < 1e-6).unwrap_or(4);
    fixed_number(tick, usize::try_from(decimals).unwrap_or(0))
}

/// The same with its sign.
pub(crate) fn signed(tick: f64) -> String {
    let text = plain(tick);
    if tick > 1e-9 { format!("+{text}") } else { text }
}

/// Classes for stroke and fill of a mark.
pub(crate) fn mark_classes(mark: u8) -> (String, String) {
    if (1..=5).contains(&mark) {
        (format!("s{mark}"), format!("f{mark}"))
    } else {
        ("line-rest".into(), "mark-rest".into())
    }
}

/// A mark: circle, square, triangle, diamond, cross for the five; an open circle for the rest.
pub(crate) fn mark(xml: &mut Xml, number: u8, at: (f64, f64), r: f64) {
    let (stroke, fill) = mark_classes(number);
    let (x, y) = at;
    let c = coordinate;
    let d = match number {
        2 => format!("M{} {}h{}v{}h{}z", c(x - 0.9 * r), c(y - 0.9 * r), c(1.8 * r), c(1.8 * r), c(-1.8 * r)),
        3 => format!(
            "M{} {}L{} {}H{}z",
            c(x),
            c(y - 1.15 * r),
            c(x + 1.1 * r),
            c(y + 0.85 * r),
            c(x - 1.1 * r)
        ),
        4 => format!(
            "M{} {}l{} {} {} {} {} {}z",
            c(x),
            c(y - 1.25 * r),
            c(1.25 * r),
            c(1.25 * r),
            c(-1.25 * r),
            c(1.25 * r),
            c(-1.25 * r),
            c(-1.25 * r)
        ),
        5 => {
            let arm = c(2.2 * r);
            format!("M{} {}h{arm}M{} {}v{arm}", c(x - 1.1 * r), c(y), c(x), c(y - 1.1 * r))
        }
        _ => {
            let (x, y, radius) = (c(x), c(y), c(if number == 0 { 0.8 * r } else { r }));
            let class = if number == 0 { fill } else { format!("{fill} {stroke}") };
            xml.empty(
                "circle",
                &[("cx", &x), ("cy", &y), ("r", &radius), ("class", &class), ("stroke-width", &1.5)],
            );
            return;
        }
    };
    let class = if number == 5 { format!("line {stroke}") } else { fill };
    let width = if number == 5 { 3.0 } else { 0.0 };
    xml.empty("path", &[("d", &d), ("class", &class), ("stroke-width", &width)]);
}

/// A line through points.
pub(crate) fn line(xml: &mut Xml, class: &str, width: f64, points: &[(f64, f64)]) {
    let d = path_of(points.iter().copied());
    xml.empty("path", &[("d", &d), ("class", &class), ("stroke-width", &width), ("fill", &"none")]);
}

/// A line of data, which says what it is of, so that the data can be read back from the picture.
pub(crate) fn line_of(
    xml: &mut Xml,
    (of, class): (&str, &str),
    width: f64,
    points: impl Iterator<Item = (f64, f64)>,
) {
    let d = path_of(points);
    xml.empty("path", &[("d", &d), ("class", &class), ("stroke-width", &width), ("data-of", &of)]);
}

/// `M` and `L` through points.
pub(crate) fn path_of(points: impl Iterator<Item = (f64, f64)>) -> String {
    let letters = std::iter::once('M').chain(std::iter::repeat('L'));
    let steps =
        points.zip(letters).map(|((x, y), letter)| format!("{letter}{} {}", coordinate(x), coordinate(y)));
    steps.collect()
}

/// A text.
pub(crate) fn text(xml: &mut Xml, class: &str, at: (f64, f64), size: f64, anchor: &str, words: &str) {
    let (x, y) = (coordinate(at.0), coordinate(at.1));
    let attributes: Attributes<'_> =
        &[("x", &x), ("y", &y), ("font-size", &size), ("text-anchor", &anchor), ("class", &class)];
    xml.leaf("text", attributes, &words);
}

#[cfg(test)]
mod tests {
    use super::{Axis, signed};

    #[test]
    fn ticks_are_round_and_hold_the_data() {
        let axis = Axis::nice((-31.2, 3.1), (0.0, 100.0));
        assert_eq!(axis.ticks(), [-40.0, -30.0, -20.0, -10.0, 0.0, 10.0]);
        assert_eq!(["−40", "0", "+0.5"], [-40.0, 0.0, 0.5].map(signed).each_ref().map(String::as_str));
        assert!(axis.at(-31.2) > 0.0 && axis.at(3.1) < 100.0);
    }

    #[test]
    fn a_small_picture_has_two_ticks_at_least() {
        for range in [0.013, 0.9, 1.0, 3.6, 19.9, 20.0, 26.7, 99.0] {
            for start in [0.0, -0.37, -13.3] {
                let ticks = Axis::coarse((start, start + range), (0.0, 100.0)).ticks();
                assert!((2..=6).contains(&ticks.len()), "{start}, {range}: {ticks:?}");
            }
        }
    }
}

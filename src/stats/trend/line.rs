//! The least-squares line through a series.

use super::super::Spread;
use super::super::distributions::{t_quantile, t_tail};
use super::super::summary::{mean, sorted_sum};
use super::series;

/// A least-squares line value = intercept + slope x time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Value at time 0, in the unit of the measure.
    pub intercept: f64,
    /// Change per unit of time.
    pub slope: f64,
    /// Share of the variation of the values that the line explains, 0 to 1; `None` where the
    /// values are all equal.
    pub r_squared: Option<f64>,
    /// Scatter about the line on n - 2 degrees of freedom; `None` for two values.
    pub spread: Option<Spread>,
    n: f64,
    mean_time: f64,
    mean_value: f64,
    /// Sum of squares of the times about their mean.
    squares: f64,
}

/// When a line reaches a level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// The time at which the line has the level.
    pub at: f64,
    /// The interval of that time after Fieller; `None` where the slope is not told apart from 0 and
    /// no interval of finite length exists.
    pub interval: Option<(f64, f64)>,
}

/// The line through `values` read at `times`; `None` where fewer than two times differ, the lengths
/// differ, or a number is not finite.
///
/// Draper and Smith (1998), Applied Regression Analysis, 3rd edition, chapter 1; times and values
/// are taken about their means. One value for each time is expected: readings of one section at one
/// round are averaged before, or the degrees of freedom would count readings.
pub fn fit(times: &[f64], values: &[f64]) -> Option<Line> {
    let series = series(times, values)?;
    let (mean_time, mean_value) = (mean(times)?, mean(values)?);
    let sum = |term: &dyn Fn(f64, f64) -> f64| {
        sorted_sum(series.iter().map(|&(x, y)| term(x - mean_time, y - mean_value)).collect())
    };
    let squares = sum(&|x, _| x * x);
    let slope = sum(&|x, y| x * y) / squares;
    let residual = sum(&|x, y| (y - slope * x).powi(2));
    let total = sum(&|_, y| y * y);
    let df = series.len() as f64 - 2.0;
    let line = Line {
        intercept: mean_value - slope * mean_time,
        slope,
        r_squared: (total > 0.0).then(|| (1.0 - residual / total).clamp(0.0, 1.0)),
        spread: (df > 0.0).then(|| Spread { sd: (residual / df).sqrt(), df }),
        n: series.len() as f64,
        mean_time,
        mean_value,
        squares,
    };
    let finite = line.intercept.is_finite() && slope.is_finite() && residual.is_finite();
    finite.then_some(line)
}

impl Line {
    /// The value of the line at `time`.
    pub fn at(&self, time: f64) -> f64 {
        self.mean_value + self.slope * (time - self.mean_time)
    }

    /// Standard error of the slope; `None` for two values.
    pub fn slope_error(&self) -> Option<f64> {
        Some(self.spread?.sd / self.squares.sqrt())
    }

    /// Standard error of the intercept; `None` for two values.
    pub fn intercept_error(&self) -> Option<f64> {
        self.mean_error(0.0)
    }

    /// Two-sided p value of the slope against 0; `None` for two values or a line without scatter.
    pub fn slope_p(&self) -> Option<f64> {
        let t = (self.slope / self.slope_error()?).abs();
        t_tail(t, self.spread?.df).map(|tail| 2.0 * tail)
    }

    /// Interval of the slope; `confidence` is a fraction, 0.95 for 95 %.
    pub fn slope_interval(&self, confidence: f64) -> Option<(f64, f64)> {
        self.around(self.slope, self.slope_error()?, confidence)
    }

    /// Interval of the line itself at `time`.
    pub fn mean_interval(&self, time: f64, confidence: f64) -> Option<(f64, f64)> {
        self.around(self.at(time), self.mean_error(time)?, confidence)
    }

    /// Interval of one new value at `time`.
    pub fn new_interval(&self, time: f64, confidence: f64) -> Option<(f64, f64)> {
        let error = self.mean_error(time)?.hypot(self.spread?.sd);
        self.around(self.at(time), error, confidence)
    }

    /// When the line reaches `level`, before, within or after the series; `None` for a level line.
    ///
    /// Fieller (1954), Journal of the Royal Statistical Society B 16, 175-185, in the form of Draper
    /// and Smith (1998), 3.2.
    pub fn crossing(&self, level: f64, confidence: f64) -> Option<Crossing> {
        let off = (level - self.mean_value) / self.slope;
        let at = self.mean_time + off;
        at.is_finite().then(|| Crossing { at, interval: self.fieller(off, confidence) })
    }

    fn fieller(&self, off: f64, confidence: f64) -> Option<(f64, f64)> {
        let spread = self.spread?;
        let t = t_quantile(f64::midpoint(1.0, confidence), spread.df)?;
        let relative = t * spread.sd / self.slope;
        let g = relative * relative / self.squares;
        if g >= 1.0 {
            return None;
        }
        let half = relative.abs() * ((off * off / self.squares) + (1.0 - g) / self.n).sqrt() / (1.0 - g);
        let middle = self.mean_time + off / (1.0 - g);
        half.is_finite().then_some((middle - half, middle + half))
    }

    fn mean_error(&self, time: f64) -> Option<f64> {
        let off = time - self.mean_time;
        Some(self.spread?.sd * (1.0 / self.n + off * off / self.squares).sqrt())
    }

    fn around(&self, center: f64, error: f64, confidence: f64) -> Option<(f64, f64)> {
        let half = t_quantile(f64::midpoint(1.0, confidence), self.spread?.df)? * error;
        half.is_finite().then_some((center - half, center + half))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_values_have_a_slope_and_no_error() {
        let line = fit(&[2.0, 6.0], &[80.0, 72.0]).unwrap();
        assert_eq!((line.slope, line.intercept, line.at(4.0)), (-2.0, 84.0, 76.0));
        assert_eq!((line.spread, line.slope_error(), line.slope_p()), (None, None, None));
        let crossing = line.crossing(60.0, 0.95).unwrap();
        assert_eq!(crossing, Crossing { at: 12.0, interval: None });
    }

    #[test]
    fn equal_values_have_a_level_line() {
        let line = fit(&[0.0, 1.0, 2.0], &[7.5; 3]).unwrap();
        assert_eq!((line.slope, line.r_squared, line.slope_error()), (0.0, None, Some(0.0)));
        assert_eq!((line.slope_p(), line.crossing(3.0, 0.95)), (None, None));
    }

    #[test]
    fn a_slope_near_zero_reaches_a_level_at_no_stated_time() {
        let line = fit(&[0.0, 1.0, 2.0, 3.0], &[5.0, 4.0, 5.2, 4.1]).unwrap();
        assert_eq!(line.crossing(0.0, 0.95).unwrap().interval, None);
    }

    #[test]
    fn order_changes_no_bit_and_units_change_the_line_alone() {
        let (times, values) = ([0.0, 1.0, 2.0, 4.0, 8.0], [88.0, 86.5, 86.0, 83.0, 77.5]);
        let line = fit(&times, &values).unwrap();
        let turned = fit(&[8.0, 1.0, 4.0, 0.0, 2.0], &[77.5, 86.5, 83.0, 88.0, 86.0]).unwrap();
        assert_eq!(turned, line);
        let moved = fit(&times.map(|x| 7.0 * x + 30.0), &values.map(|y| 10.0 * y - 3.0)).unwrap();
        assert!((moved.slope / line.slope - 10.0 / 7.0).abs() < 1e-12);
        assert!((moved.slope_p().unwrap() / line.slope_p().unwrap() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn lines_that_cannot_be_drawn_are_none() {
        assert_eq!((fit(&[], &[]), fit(&[1.0], &[2.0]), fit(&[1.0, 1.0], &[2.0, 3.0])), (None, None, None));
        assert_eq!((fit(&[0.0, 1.0], &[2.0, f64::NAN]), fit(&[0.0, 1.0], &[2.0])), (None, None));
    }
}

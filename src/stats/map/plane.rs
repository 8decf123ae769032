//! A plane through the values of places: how far it falls from one edge to the other.

use super::super::distributions::f_tail;
use super::super::fit::linear::regress;
use super::super::summary::{mean, sum_of_squares};

/// A plane fitted to values at places.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plane {
    /// Slope along the first coordinate, in the unit of the values per unit of the place.
    pub along: Slope,
    /// Slope along the second coordinate.
    pub across: Slope,
    /// Degrees of freedom of the scatter about the plane.
    pub df: f64,
    /// P value of no slope in either direction; `None` where the plane leaves no scatter.
    pub p: Option<f64>,
    /// Places.
    pub places: usize,
}

/// A slope with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// The slope.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
}

impl Plane {
    /// How far the plane rises over a `distance` along a slope, with its interval at a confidence such as 0.95
    /// that holds for all directions together, so that it leaves out zero only where the test of no slope does.
    ///
    /// Scheffe (1953), Biometrika 40, 87-104; the F quantile on 2 degrees of freedom has a closed form.
    pub fn rise(&self, slope: Slope, distance: f64, confidence: f64) -> Option<(f64, f64, f64)> {
        let squared = self.df * ((1.0 - confidence).powf(-2.0 / self.df) - 1.0);
        let half = squared.sqrt() * slope.error * distance.abs();
        let rise = slope.value * distance;
        (half.is_finite() && rise.is_finite()).then_some((rise, rise - half, rise + half))
    }
}

/// Least squares of a plane on `values` at `places`, each of which belongs to one of several panels, counted from 0: the slopes are those
/// that all panels share, and each panel has its own mean level and its own middle.
///
/// `None` with fewer places than panels and three more, where the places of every panel lie on lines of one direction, or a number is not
/// finite (NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1; the test is that of both slopes at once, so that what panels
/// differ by is in neither side of it: Scheffe 1959, The Analysis of Variance, 6.2).
pub fn fit(places: &[(f64, f64)], values: &[f64], panels: &[usize]) -> Option<Plane> {
    if panels.len() != values.len() || places.len() != values.len() {
        return None;
    }
    let (xs, ys): (Vec<f64>, Vec<f64>) = places.iter().copied().unzip();
    let count = panels.iter().max()? + 1;
    let of = |panel: usize, all: &[f64]| -> Vec<f64> {
        panels.iter().zip(all).filter(|(own, _)| **own == panel).map(|(_, value)| *value).collect()
    };
    let centred = |all: &[f64]| -> Option<Vec<f64>> {
        let middles: Option<Vec<f64>> = (0..count).map(|panel| mean(&of(panel, all))).collect();
        let middles = middles?;
        Some(panels.iter().zip(all).map(|(&panel, value)| value - middles[panel]).collect())
    };
    let own = |panel: usize| panels.iter().map(|&one| f64::from(u8::from(one == panel))).collect();
    let mut columns: Vec<Vec<f64>> = (0..count).map(own).collect();
    columns.extend([centred(&xs)?, centred(&ys)?]);
    let found = regress(&columns, values)?;
    let (spread, errors) = (found.spread?, found.errors()?);
    let slope = |at: usize| Slope { value: found.coefficients[at], error: errors[at] };
    let rest = spread.sd * spread.sd * spread.df;
    let within: Option<f64> = (0..count).map(|panel| sum_of_squares(&of(panel, values))).sum();
    let explained = within? - rest;
    let f = explained.max(0.0) / 2.0 / (spread.sd * spread.sd);
    let largest = values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let scatters = f.is_finite() && spread.sd > 1e-14 * largest;
    let p = scatters.then(|| f_tail(f, 2.0, spread.df)).flatten();
    Some(Plane { along: slope(count), across: slope(count + 1), df: spread.df, p, places: values.len() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_worked_plane() {
        // 10 + 2 x + 3 y on four corners, with 1 more on one diagonal and 1 less on the other.
        let places = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let plane = fit(&places, &[11.0, 11.0, 12.0, 16.0], &[0; 4]).unwrap();
        assert!((plane.along.value - 2.0).abs() < 1e-14 && (plane.across.value - 3.0).abs() < 1e-14);
        // Four residuals of 1 on one degree of freedom: scatter 2, slope error 2 / sqrt(4 x 1/4).
        assert!((plane.along.error - 2.0).abs() < 1e-13);
        let (rise, low, high) = plane.rise(plane.along, 3.0, 0.95).unwrap();
        // On one degree of freedom the squared factor is 0.05^-2 - 1.
        assert!((rise - 6.0).abs() < 1e-13 && (high - low - 12.0 * 399.0_f64.sqrt()).abs() < 1e-9);
        // F is 6.5 / 4 on 2 and 1 degrees of freedom: p = (1 + 2 F)^(-1/2).
        let expected = (1.0 + 2.0 * 6.5 / 4.0_f64).powf(-0.5);
        assert!((plane.p.unwrap() - expected).abs() < 1e-12);
    }

    #[test]
    fn an_interval_ends_at_zero_where_its_confidence_is_one_less_the_p_value() {
        // All of the slope lies along the first coordinate, so that its interval is that of the test.
        let places = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (0.5, 0.5)];
        let plane = fit(&places, &[1.0, 3.0, 1.0, 3.0, 2.4], &[0; 5]).unwrap();
        let (_, low, _) = plane.rise(plane.along, 1.0, 1.0 - plane.p.unwrap()).unwrap();
        assert!(low.abs() < 1e-9, "{low}");
    }

    /// The four corners of the first example on one panel, and the same 50 higher and far below on another: slopes as there. Twice the
    /// residuals are 8 squares on 8 - 2 - 2 degrees of freedom, so that a slope has an error of sqrt(2 / 2); the slopes explain
    /// twice 4 + 9, and F is 26 / 2 / 2 on 2 and 4 degrees: p = (1 + 2 F / 4)^-2.
    #[test]
    fn what_panels_differ_by_is_no_slope() {
        let square = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let far = square.map(|(x, y)| (x + 7.0, y + 90.0));
        let values = [11.0, 11.0, 12.0, 16.0, 61.0, 61.0, 62.0, 66.0];
        let plane = fit(&[square, far].concat(), &values, &[0, 0, 0, 0, 1, 1, 1, 1]).unwrap();
        assert!((plane.along.value - 2.0).abs() < 1e-12 && (plane.across.value - 3.0).abs() < 1e-12);
        assert!((plane.along.error - 1.0).abs() < 1e-12 && (plane.df - 4.0).abs() < 1e-12);
        assert!((plane.p.unwrap() - (1.0 + 6.5 / 2.0_f64).powi(-2)).abs() < 1e-12, "{plane:?}");
        // Two panels of three places each leave two degrees; one place fewer leaves too little for two means and two slopes.
        assert_eq!(fit(&square, &values[..4], &[0, 0, 1, 1]), None);
    }

    #[test]
    fn planes_that_cannot_be_laid_are_none() {
        let line = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)];
        assert_eq!(fit(&line, &[1.0, 2.0, 4.0, 3.0], &[0; 4]), None);
        assert_eq!(fit(&line[..3], &[1.0, 2.0, 3.0], &[0; 3]), None);
        assert_eq!(fit(&[], &[], &[]), None);
        let square = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        assert_eq!(fit(&square, &[5.0; 4], &[0; 4]).unwrap().p, None);
    }
}

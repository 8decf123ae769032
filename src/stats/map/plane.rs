//! A plane through the values of places: how far it falls from one edge to the other.

use super::super::distributions::{f_tail, t_quantile};
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
    /// How far the plane rises over a `distance` along a slope, with its interval at a confidence such as 0.95.
    pub fn rise(&self, slope: Slope, distance: f64, confidence: f64) -> Option<(f64, f64, f64)> {
        let half = t_quantile(f64::midpoint(1.0, confidence), self.df)? * slope.error * distance.abs();
        let rise = slope.value * distance;
        Some((rise, rise - half, rise + half))
    }
}

/// Least squares of a plane on `values` at `places`.
///
/// `None` with fewer than four places, where they all lie on one line, or a number is not finite
/// (NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1; the test is that of all slopes at once).
pub fn fit(places: &[(f64, f64)], values: &[f64]) -> Option<Plane> {
    let (xs, ys): (Vec<f64>, Vec<f64>) = places.iter().copied().unzip();
    let centred = |all: Vec<f64>| -> Option<Vec<f64>> {
        let middle = mean(&all)?;
        Some(all.iter().map(|value| value - middle).collect())
    };
    let found = regress(&[vec![1.0; values.len()], centred(xs)?, centred(ys)?], values)?;
    let (spread, errors) = (found.spread?, found.errors()?);
    let slope = |at: usize| Slope { value: found.coefficients[at], error: errors[at] };
    let rest = spread.sd * spread.sd * spread.df;
    let explained = sum_of_squares(values)? - rest;
    let f = explained.max(0.0) / 2.0 / (spread.sd * spread.sd);
    let largest = values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let scatters = f.is_finite() && spread.sd > 1e-14 * largest;
    let p = scatters.then(|| f_tail(f, 2.0, spread.df)).flatten();
    Some(Plane { along: slope(1), across: slope(2), df: spread.df, p, places: values.len() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_worked_plane() {
        // 10 + 2 x + 3 y on four corners, with 1 more on one diagonal and 1 less on the other.
        let places = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let plane = fit(&places, &[11.0, 11.0, 12.0, 16.0]).unwrap();
        assert!((plane.along.value - 2.0).abs() < 1e-14 && (plane.across.value - 3.0).abs() < 1e-14);
        // Four residuals of 1 on one degree of freedom: scatter 2, slope error 2 / sqrt(4 x 1/4).
        assert!((plane.along.error - 2.0).abs() < 1e-13);
        let (rise, low, high) = plane.rise(plane.along, 3.0, 0.95).unwrap();
        assert!((rise - 6.0).abs() < 1e-13 && (high - low - 2.0 * 6.0 * 12.706_204_736).abs() < 1e-7);
        // F is 6.5 / 4 on 2 and 1 degrees of freedom: p = (1 + 2 F)^(-1/2).
        let expected = (1.0 + 2.0 * 6.5 / 4.0_f64).powf(-0.5);
        assert!((plane.p.unwrap() - expected).abs() < 1e-12);
    }

    #[test]
    fn planes_that_cannot_be_laid_are_none() {
        let line = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)];
        assert_eq!(fit(&line, &[1.0, 2.0, 4.0, 3.0]), None);
        assert_eq!(fit(&line[..3], &[1.0, 2.0, 3.0]), None);
        assert_eq!(fit(&[], &[]), None);
        let square = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        assert_eq!(fit(&square, &[5.0; 4]).unwrap().p, None);
    }
}

//! A plane through the values of places: how far it falls from one edge to the other.

use super::super::Spread;
use super::super::blocks::residuals;
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

/// A plane beside groups, as treatments and pieces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BesideGroups {
    /// The slopes that all groups share.
    pub plane: Plane,
    /// Both slopes against none: F on 2 and the degrees of freedom of the plane.
    pub f: f64,
    /// The scatter that groups alone leave.
    pub without: Spread,
    /// The scatter that groups and plane leave.
    pub with: Spread,
    /// Variances and covariance of both slopes, in squares of that scatter.
    pub covariance: [[f64; 2]; 2],
}

/// A direction of which less than this share is left beside the groups has no slope.
const DEPENDENT: f64 = 1e-9;

/// Least squares of a plane on `values` at `places`, beside groups of any kinds, each value in one group of every kind.
///
/// Slopes are those of what the groups leave of the values on what they leave of the places (Frisch and Waugh 1933, Econometrica 1, 387-401;
/// Lovell 1963, Journal of the American Statistical Association 58, 993-1010), on two degrees of freedom fewer than the groups leave; the
/// test is the extra sum of squares of both (Draper and Smith 1998, Applied Regression Analysis, 3rd edition, chapter 6). `None` where fewer than one is left, where places lie in one line beside the
/// groups, nothing scatters about the plane, or a number is not finite.
pub fn beside(places: &[(f64, f64)], values: &[f64], kinds: &[Vec<usize>]) -> Option<BesideGroups> {
    let (xs, ys): (Vec<f64>, Vec<f64>) = places.iter().copied().unzip();
    let ((rest, df), (x, _), (y, _)) =
        (residuals(values, kinds)?, residuals(&xs, kinds)?, residuals(&ys, kinds)?);
    let squares = |all: &[f64]| all.iter().map(|one| one * one).sum::<f64>();
    let lies = |left: &[f64], all: &[f64]| Some(squares(left) > DEPENDENT * sum_of_squares(all)?);
    let df = Some(df - 2.0).filter(|&df| df > 0.0 && places.len() == values.len())?;
    if !lies(&x, &xs)? || !lies(&y, &ys)? {
        return None;
    }
    let found = regress(&[x, y], &rest)?;
    let with = Spread { sd: (squares(&found.residuals) / df).sqrt(), df };
    let without = Spread { sd: (squares(&rest) / (df + 2.0)).sqrt(), df: df + 2.0 };
    let largest = values.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    let f = (squares(&rest) - squares(&found.residuals)).max(0.0) / 2.0 / (with.sd * with.sd);
    if !f.is_finite() || with.sd <= 1e-12 * largest {
        return None;
    }
    let slope =
        |at: usize| Slope { value: found.coefficients[at], error: with.sd * found.inverse()[at][at].sqrt() };
    let plane = Plane { along: slope(0), across: slope(1), df, p: f_tail(f, 2.0, df), places: values.len() };
    let inverse = found.inverse();
    let covariance = [[inverse[0][0], inverse[0][1]], [inverse[1][0], inverse[1][1]]];
    Some(BesideGroups { plane, f, without, with, covariance })
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

    /// The example of two panels, whose panels are now treatments that lie anywhere: the same slopes, errors and test.
    #[test]
    fn beside_one_kind_of_groups_it_is_the_plane_of_several_panels() {
        let square = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        let values = [11.0, 11.0, 12.0, 16.0, 61.0, 61.0, 62.0, 66.0];
        let places = [square, square.map(|(x, y)| (x + 7.0, y + 90.0))].concat();
        let found = beside(&places, &values, &[vec![0, 0, 0, 0, 1, 1, 1, 1]]).unwrap();
        assert!((found.f - 6.5).abs() < 1e-12 && (found.plane.df - 4.0).abs() < 1e-12, "{found:?}");
        assert!(
            (found.plane.along.value - 2.0).abs() < 1e-12 && (found.plane.along.error - 1.0).abs() < 1e-12
        );
        assert!((found.plane.p.unwrap() - (1.0 + 6.5 / 2.0_f64).powi(-2)).abs() < 1e-12);
        // Groups leave 2 x (4 + 9 + 4) on 6 degrees of freedom, the plane 8 on 4.
        assert!(
            (found.without.sd.powi(2) - 34.0 / 6.0).abs() < 1e-12
                && (found.with.sd.powi(2) - 2.0).abs() < 1e-12
        );
    }

    /// Three treatments in three blocks, unevenly; by `numpy` 2.4.6 (`lstsq`, the model with and without both slopes) and `scipy` 1.17.1.
    #[test]
    fn beside_two_kinds_of_groups_it_agrees_with_a_general_solver() {
        let places: Vec<(f64, f64)> =
            (0..10).map(|at| (110.0 * f64::from(at % 4), 90.0 * f64::from(at / 4))).collect();
        let values = [-5.1, -10.2, -8.4, -11.9, -7.3, -6.2, -10.8, -7.0, -4.4, -6.9];
        let kinds = [vec![0, 1, 2, 1, 2, 0, 1, 0, 0, 2], vec![0, 0, 0, 1, 1, 1, 2, 2, 2, 1]];
        let found = beside(&places, &values, &kinds).unwrap();
        let near = |value: f64, known: f64| (value / known - 1.0).abs() < 1e-9;
        assert!(near(found.f, 44.966_752_418_192_99) && (found.plane.df - 3.0).abs() < 1e-12, "{found:?}");
        assert!(near(found.plane.p.unwrap(), 0.005_799_938_757_801_31), "{found:?}");
        assert!(near(found.plane.along.value, -0.005_112_900_058_900_749), "{found:?}");
        assert!(near(found.plane.along.error, 0.001_015_035_234_747_957_7), "{found:?}");
        assert!(near(found.plane.across.value, 0.009_104_871_610_269_072), "{found:?}");
        assert!(near(found.plane.across.error, 0.002_937_380_369_007_454_2), "{found:?}");
        assert!(
            near(found.without.sd, 1.140_350_823_211_874_6) && near(found.with.sd, 0.264_507_094_195_542_75)
        );
    }
    #[test]
    fn planes_that_cannot_be_laid_are_none() {
        let line = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)];
        assert_eq!(fit(&line, &[1.0, 2.0, 4.0, 3.0], &[0; 4]), None);
        assert_eq!(fit(&line[..3], &[1.0, 2.0, 3.0], &[0; 3]), None);
        assert_eq!(fit(&[], &[], &[]), None);
        let square = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)];
        assert_eq!(fit(&square, &[5.0; 4], &[0; 4]).unwrap().p, None);
        // Each treatment in a row of its own, so that nothing is left of one direction beside them.
        let (rows, twice) = ([(0.0, 0.0), (1.0, 0.0), (3.0, 0.0)], [(0.0, 1.0), (1.0, 1.0), (3.0, 1.0)]);
        let apart = [rows, twice].concat();
        assert_eq!(beside(&apart, &[1.0, 2.0, 4.0, 7.0, 6.0, 9.0], &[vec![0, 0, 0, 1, 1, 1]]), None);
        assert_eq!(beside(&square, &[5.0; 4], &[vec![0; 4]]), None);
    }
}

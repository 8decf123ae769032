//! Linear regression on any columns.

use super::super::Spread;
use super::super::summary::{all_equal, sum_of_squares};
use super::qr::{Factors, norm};

/// A fitted linear model.
#[derive(Clone, Debug, PartialEq)]
pub struct Regression {
    /// One coefficient for each column, in the unit of the measure per unit of the column.
    pub coefficients: Vec<f64>,
    /// What the model leaves of each value, in the unit of the measure.
    pub residuals: Vec<f64>,
    /// Scatter about the model on rows - columns degrees of freedom; `None` where that is 0.
    pub spread: Option<Spread>,
    /// Share of the variation that the model explains: about the mean where one column is
    /// constant, else about 0. `None` where there is no variation.
    pub r_squared: Option<f64>,
    /// (X'X)^-1, by rows: times the squared scatter it is the covariance of the coefficients.
    inverse: Vec<Vec<f64>>,
}

/// Least squares of `values` on `columns`, each with one number for every value.
///
/// `None` without columns, with fewer values than columns, where the lengths differ, a number is
/// not finite, or a column depends on those before it. Householder reflections on scaled columns,
/// refined once and more (Golub 1965; Bjorck 1967), so that nearly dependent columns keep digits.
pub fn regress(columns: &[Vec<f64>], values: &[f64]) -> Option<Regression> {
    let factors = Factors::of(columns)?;
    if values.len() != columns.first()?.len() || !values.iter().all(|value| value.is_finite()) {
        return None;
    }
    let solution = factors.least_squares(values);
    let rest = norm(&solution.residuals);
    let df = (values.len() - columns.len()) as f64;
    let constant = columns.iter().any(|column| all_equal(column));
    let total = if constant { sum_of_squares(values)?.sqrt() } else { norm(values) };
    let regression = Regression {
        coefficients: solution.coefficients,
        residuals: solution.residuals,
        spread: (df > 0.0).then(|| Spread { sd: rest / df.sqrt(), df }),
        r_squared: (total > 0.0).then(|| (1.0 - (rest / total).powi(2)).clamp(0.0, 1.0)),
        inverse: factors.inverse_of_normal(),
    };
    let finite = regression.coefficients.iter().chain([&rest]).all(|number| number.is_finite());
    finite.then_some(regression)
}

impl Regression {
    /// (X'X)^-1, symmetric, by rows.
    pub(in crate::stats) fn inverse(&self) -> &[Vec<f64>] {
        &self.inverse
    }

    /// Standard errors of the coefficients; `None` where no degree of freedom is left.
    pub fn errors(&self) -> Option<Vec<f64>> {
        let sd = self.spread?.sd;
        Some(self.inverse.iter().enumerate().map(|(at, row)| sd * row[at].sqrt()).collect())
    }

    /// Standard error of the sum of `weights` times coefficients, one weight for each.
    pub fn error_of(&self, weights: &[f64]) -> Option<f64> {
        let by_row =
            self.inverse.iter().zip(weights).map(|(row, one)| {
                row.iter().zip(weights).map(|(entry, other)| one * entry * other).sum::<f64>()
            });
        (weights.len() == self.inverse.len()).then(|| Some(self.spread?.sd * by_row.sum::<f64>().sqrt()))?
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::trend::line;
    use super::*;

    #[test]
    fn a_constant_and_a_column_are_the_line() {
        let (times, values) = (vec![0.0, 1.0, 2.0, 5.0], [9.0, 8.1, 7.4, 4.0]);
        let found = regress(&[vec![1.0; 4], times.clone()], &values).unwrap();
        let line = line::fit(&times, &values).unwrap();
        assert!((found.coefficients[1] / line.slope - 1.0).abs() < 1e-13);
        assert!((found.errors().unwrap()[1] / line.slope_error().unwrap() - 1.0).abs() < 1e-11);
        assert!((found.errors().unwrap()[0] / line.intercept_error().unwrap() - 1.0).abs() < 1e-11);
        assert!((found.r_squared.unwrap() - line.r_squared.unwrap()).abs() < 1e-13);
        let at_two = found.error_of(&[1.0, 2.0]).unwrap();
        let (low, high) = line.mean_interval(2.0, 0.95).unwrap();
        assert!((at_two * 2.0 * 4.302_652_729_911_275 / (high - low) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn as_many_columns_as_values_leave_no_scatter() {
        let found = regress(&[vec![1.0, 1.0], vec![0.0, 2.0]], &[3.0, 7.0]).unwrap();
        assert_eq!((found.spread, found.errors(), found.error_of(&[1.0, 0.0])), (None, None, None));
        assert!((found.coefficients[1] - 2.0).abs() < 1e-15);
    }

    #[test]
    fn regressions_that_cannot_be_made_are_none() {
        assert_eq!(regress(&[], &[1.0]), None);
        assert_eq!(regress(&[vec![1.0; 3], vec![2.0; 3]], &[1.0, 2.0, 3.0]), None);
        assert_eq!(regress(&[vec![1.0; 3]], &[1.0, 2.0]), None);
        assert_eq!(regress(&[vec![1.0; 3]], &[1.0, 2.0, f64::NAN]), None);
        let level = regress(&[vec![1.0; 3]], &[5.0; 3]).unwrap();
        assert!(level.r_squared.is_none() && level.errors().unwrap()[0] < 1e-30);
        assert_eq!(level.error_of(&[1.0, 1.0]), None);
    }
}

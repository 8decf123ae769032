//! Nonlinear least squares after Levenberg and Marquardt.

use super::super::Spread;
use super::qr::{Factors, norm};

/// Steps after which a search that has not settled is given up.
const MOST_STEPS: usize = 2_000;
/// Dampings to begin with: bold first, and more careful where that runs away.
const DAMPINGS: [f64; 3] = [1e-3, 1.0, 1e3];
/// Undamped steps at the end; each gains a digit or more unless the curve is strongly bent.
const MOST_POLISH: usize = 100;
/// A step below this share of the parameters is rounding.
const SETTLED: f64 = 1e-14;
/// The gradient of a settled fit, as a share of what it could be: the cosine between the residuals
/// and the columns of the slopes.
const FLAT: f64 = 1e-5;

/// A curve with parameters: its value, and its slopes by each parameter, at one place.
pub trait Curve {
    /// The value at `x` with `parameters`, in the unit of the measure.
    fn value(&self, parameters: &[f64], x: f64) -> f64;
    /// The derivative of the value by each parameter, in their order.
    fn slopes(&self, parameters: &[f64], x: f64) -> Vec<f64>;
}

/// A fitted curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The parameters, in the order of the start values.
    pub parameters: Vec<f64>,
    /// Scatter about the curve on values - parameters degrees of freedom; `None` where that is 0.
    pub spread: Option<Spread>,
    /// Sum of the squared residuals, in the squared unit of the measure.
    pub squares: f64,
    /// (J'J)^-1 at the parameters, by rows.
    inverse: Vec<Vec<f64>>,
}

impl Fit {
    /// Covariance of two parameters by their places; `None` where no degree of freedom is left or
    /// there is no such parameter.
    ///
    /// From the slopes at the solution, without second derivatives (Bates and Watts 1988, Nonlinear
    /// Regression Analysis and Its Applications, 2.2).
    pub fn covariance(&self, one: usize, other: usize) -> Option<f64> {
        Some(self.spread?.sd.powi(2) * self.inverse.get(one)?.get(other)?)
    }

    /// Standard errors of the parameters; `None` where no degree of freedom is left.
    pub fn errors(&self) -> Option<Vec<f64>> {
        (0..self.parameters.len()).map(|at| self.covariance(at, at).map(f64::sqrt)).collect()
    }
}

/// The parameters that make the squared distances of `values` from `curve` at `places` least,
/// searched from `start`.
///
/// `None` where the lengths differ, there are fewer values than parameters, a number is not finite,
/// the search does not settle, or the parameters cannot be told apart there. Levenberg (1944),
/// Quarterly of Applied Mathematics 2, 164-168; Marquardt (1963), Journal of the Society for
/// Industrial and Applied Mathematics 11, 431-441; damping by the gain of each step after Nielsen
/// (1999), each parameter scaled by the longest slope seen (More 1978).
pub fn fit<C: Curve>(curve: &C, places: &[f64], values: &[f64], start: &[f64]) -> Option<Fit> {
    let numbers = places.iter().chain(values).chain(start);
    if places.len() != values.len() || values.len() < start.len() || !numbers.clone().all(|n| n.is_finite()) {
        return None;
    }
    DAMPINGS.into_iter().find_map(|damping| {
        let mut search = Search::new(Data { curve, places, values }, start, damping)?;
        (0..MOST_STEPS).find_map(|_| search.step())?;
        search.finish()
    })
}

struct Data<'a, C> {
    curve: &'a C,
    places: &'a [f64],
    values: &'a [f64],
}

impl<C: Curve> Data<'_, C> {
    fn residuals(&self, parameters: &[f64]) -> Vec<f64> {
        let rest = |(&x, &y): (&f64, &f64)| y - self.curve.value(parameters, x);
        self.places.iter().zip(self.values).map(rest).collect()
    }

    /// The slopes by columns, one for each parameter.
    fn columns(&self, parameters: &[f64]) -> Vec<Vec<f64>> {
        let rows: Vec<Vec<f64>> = self.places.iter().map(|&x| self.curve.slopes(parameters, x)).collect();
        (0..parameters.len()).map(|at| rows.iter().map(|row| row[at]).collect()).collect()
    }
}

struct Search<'a, C> {
    data: Data<'a, C>,
    parameters: Vec<f64>,
    residuals: Vec<f64>,
    scales: Vec<f64>,
    damping: f64,
    growth: f64,
}

impl<'a, C: Curve> Search<'a, C> {
    fn new(data: Data<'a, C>, start: &[f64], damping: f64) -> Option<Self> {
        let residuals = data.residuals(start);
        let scales = vec![0.0; start.len()];
        let finite = norm(&residuals).is_finite();
        finite.then(|| Self { data, parameters: start.to_vec(), residuals, scales, damping, growth: 2.0 })
    }

    /// One step of the search; `Some` once it has settled or cannot go on.
    fn step(&mut self) -> Option<()> {
        let mut columns = self.data.columns(&self.parameters);
        for (scale, column) in self.scales.iter_mut().zip(&columns) {
            *scale = scale.max(norm(column)).max(f64::MIN_POSITIVE);
        }
        // The damped problem is an ordinary one with a row more for each parameter.
        for (at, column) in columns.iter_mut().enumerate() {
            column.extend(
                (0..self.scales.len())
                    .map(|row| if row == at { self.damping.sqrt() * self.scales[at] } else { 0.0 }),
            );
        }
        let mut right = self.residuals.clone();
        right.resize(right.len() + self.scales.len(), 0.0);
        let Some(factors) = Factors::of(&columns) else {
            return self.reject();
        };
        let solution = factors.least_squares(&right);
        let next: Vec<f64> =
            self.parameters.iter().zip(&solution.coefficients).map(|(old, step)| old + step).collect();
        let relative = |(step, old): (&f64, &f64)| step.abs() / old.abs().max(1e-300);
        let largest = solution.coefficients.iter().zip(&self.parameters).map(relative).fold(0.0, f64::max);
        let residuals = self.data.residuals(&next);
        let (before, after) = (norm(&self.residuals), norm(&residuals));
        let predicted = norm(&solution.residuals);
        if after.is_finite() && after <= before {
            self.accept(next, residuals, gain(before, after, predicted));
            return (largest <= SETTLED || after == 0.0).then_some(());
        }
        if largest <= SETTLED { Some(()) } else { self.reject() }
    }

    fn accept(&mut self, parameters: Vec<f64>, residuals: Vec<f64>, gain: f64) {
        self.parameters = parameters;
        self.residuals = residuals;
        self.damping *= (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0);
        self.growth = 2.0;
    }

    fn reject(&mut self) -> Option<()> {
        self.damping *= self.growth;
        self.growth *= 2.0;
        (!self.damping.is_finite()).then_some(())
    }

    /// Steps without damping as long as each is smaller than the one before: near the end the
    /// squares are too flat to tell one step from the next, and their sizes are not.
    fn polish(&mut self) {
        let mut before = 1e-3;
        for _ in 0..MOST_POLISH {
            let columns = self.data.columns(&self.parameters);
            let Some(factors) = Factors::of(&columns) else { return };
            let step = factors.least_squares(&self.residuals).coefficients;
            let relative = step.iter().zip(&self.parameters).map(|(step, old)| (step / old).abs());
            let size = relative.fold(0.0, f64::max);
            if size.is_nan() || size >= before {
                return;
            }
            before = size;
            self.parameters.iter_mut().zip(&step).for_each(|(parameter, step)| *parameter += step);
            self.residuals = self.data.residuals(&self.parameters);
        }
    }

    /// The fit, if no direction leads down from where the search ended.
    fn finish(mut self) -> Option<Fit> {
        self.polish();
        let columns = self.data.columns(&self.parameters);
        let factors = Factors::of(&columns)?;
        let length = norm(&self.residuals);
        let (n, p) = (self.residuals.len() as f64, columns.len() as f64);
        // The residuals may be nothing but the rounding of the values.
        let rounding = 1e-13 * norm(self.data.values);
        let rest = norm(&factors.least_squares(&self.residuals).residuals);
        let along = (length * length - rest * rest).max(0.0).sqrt();
        if along > (FLAT * length).max(rounding) {
            return None;
        }
        let spread = (n > p).then(|| Spread { sd: length / (n - p).sqrt(), df: n - p });
        let inverse = factors.inverse_of_normal();
        let fit = Fit { parameters: self.parameters, spread, squares: length * length, inverse };
        fit.inverse.iter().flatten().all(|entry| entry.is_finite()).then_some(fit)
    }
}

/// How much of the promised fall of the squares came true, 0 to 1 and a little above.
fn gain(before: f64, after: f64, predicted: f64) -> f64 {
    let promised = (before - predicted) * (before + predicted);
    let came = (before - after) * (before + after);
    if promised > 0.0 { (came / promised).clamp(-1.0, 1.0) } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Line;

    impl Curve for Line {
        fn value(&self, parameters: &[f64], x: f64) -> f64 {
            parameters[0] + parameters[1] * x
        }
        fn slopes(&self, _: &[f64], x: f64) -> Vec<f64> {
            vec![1.0, x]
        }
    }

    /// A curve whose two parameters do the same.
    struct Doubled;

    impl Curve for Doubled {
        fn value(&self, parameters: &[f64], x: f64) -> f64 {
            (parameters[0] + parameters[1]) * x
        }
        fn slopes(&self, _: &[f64], x: f64) -> Vec<f64> {
            vec![x, x]
        }
    }

    #[test]
    fn a_line_is_found_from_anywhere() {
        for start in [[0.0, 0.0], [1e6, -1e6], [9.0, -1.0]] {
            let found = fit(&Line, &[0.0, 1.0, 2.0, 3.0], &[1.0, 3.0, 4.0, 8.0], &start).unwrap();
            assert!((found.parameters[0] - 0.7).abs() < 1e-12 && (found.parameters[1] - 2.2).abs() < 1e-12);
            assert!((found.squares - 1.8).abs() < 1e-12);
            assert!((found.errors().unwrap()[1] - (0.9_f64 * 0.2).sqrt()).abs() < 1e-12);
        }
    }

    #[test]
    fn as_many_values_as_parameters_have_no_errors() {
        let found = fit(&Line, &[0.0, 1.0], &[1.0, 3.0], &[0.0, 0.0]).unwrap();
        assert_eq!((found.spread, found.errors(), found.covariance(0, 5)), (None, None, None));
    }

    #[test]
    fn fits_that_cannot_be_made_are_none() {
        assert_eq!(fit(&Doubled, &[1.0, 2.0, 3.0], &[2.0, 4.1, 6.0], &[1.0, 0.5]), None);
        assert_eq!(fit(&Line, &[1.0], &[2.0], &[0.0, 0.0]), None);
        assert_eq!(fit(&Line, &[1.0, 2.0], &[2.0], &[0.0, 0.0]), None);
        assert_eq!(fit(&Line, &[1.0, 2.0, 3.0], &[2.0, f64::NAN, 1.0], &[0.0, 0.0]), None);
    }
}

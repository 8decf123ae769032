//! Least squares by Householder reflections, with refinement of the result.

use super::precise::dot;

/// A column whose part outside the columns before it is below this share of itself is taken to
/// depend on them: nothing but rounding is left of it.
const DEPENDENT: f64 = 1e-14;
/// Rounds of refinement; two are enough unless the columns are nearly dependent.
const REFINEMENTS: usize = 4;

/// The QR factors of a matrix with more rows than columns, each column scaled to length 1.
///
/// Golub (1965), Numerische Mathematik 7, 206-216; refinement after Bjorck (1967), BIT 7, 257-278.
pub(super) struct Factors<'a> {
    columns: &'a [Vec<f64>],
    scales: Vec<f64>,
    /// The reflectors, one for each column, zero above their place.
    reflectors: Vec<Vec<f64>>,
    /// The upper triangle of the scaled matrix, by columns.
    r: Vec<Vec<f64>>,
}

/// The solution of a least-squares problem.
pub(super) struct Solution {
    /// One coefficient for each column.
    pub(super) coefficients: Vec<f64>,
    /// What is left of each row.
    pub(super) residuals: Vec<f64>,
}

impl<'a> Factors<'a> {
    /// Factors of `columns`; `None` without columns, with fewer rows than columns, where the lengths
    /// differ, a number is not finite, or a column depends on those before it.
    pub(super) fn of(columns: &'a [Vec<f64>]) -> Option<Self> {
        let rows = columns.first()?.len();
        if rows < columns.len() || columns.iter().any(|column| column.len() != rows) {
            return None;
        }
        let mut factors = Self { columns, scales: Vec::new(), reflectors: Vec::new(), r: Vec::new() };
        for column in columns {
            let scale = norm(column);
            if !(scale.is_finite() && scale > 0.0) {
                return None;
            }
            factors.scales.push(scale);
            factors.append(column.iter().map(|value| value / scale).collect())?;
        }
        Some(factors)
    }

    fn append(&mut self, mut column: Vec<f64>) -> Option<()> {
        let place = self.r.len();
        self.apply(&mut column);
        let rest = norm(&column[place..]);
        if rest.is_nan() || rest <= DEPENDENT {
            return None;
        }
        let diagonal = -rest.copysign(column[place]);
        let mut reflector = vec![0.0; column.len()];
        reflector[place..].copy_from_slice(&column[place..]);
        reflector[place] -= diagonal;
        let length = norm(&reflector[place..]);
        for value in &mut reflector {
            *value /= length;
        }
        column.truncate(place);
        column.push(diagonal);
        self.reflectors.push(reflector);
        self.r.push(column);
        Some(())
    }

    /// Replaces a vector of one number a row by Q' times it.
    fn apply(&self, vector: &mut [f64]) {
        self.reflectors.iter().for_each(|reflector| reflect(reflector, vector));
    }

    /// Replaces such a vector by Q times it.
    fn apply_back(&self, vector: &mut [f64]) {
        self.reflectors.iter().rev().for_each(|reflector| reflect(reflector, vector));
    }

    /// Solves R x = b in place.
    fn solve(&self, b: &mut [f64]) {
        for at in (0..b.len()).rev() {
            b[at] /= self.r[at][at];
            let value = b[at];
            b[..at].iter_mut().zip(&self.r[at]).for_each(|(b, r)| *b -= r * value);
        }
    }

    /// Solves R' x = b in place.
    fn solve_transposed(&self, b: &mut [f64]) {
        for at in 0..b.len() {
            let known: f64 = b[..at].iter().zip(&self.r[at]).map(|(b, r)| b * r).sum();
            b[at] = (b[at] - known) / self.r[at][at];
        }
    }

    /// The coefficients that make the squared residuals of `y` least; `y` has one number a row.
    pub(super) fn least_squares(&self, y: &[f64]) -> Solution {
        let mut solution =
            Solution { coefficients: vec![0.0; self.columns.len()], residuals: vec![0.0; y.len()] };
        let mut before = f64::INFINITY;
        for _ in 0..=REFINEMENTS {
            let (coefficients, residuals) = self.correction(y, &solution);
            let size = norm(&coefficients);
            // Corrections that do not shrink any more are rounding.
            if size.is_nan() || size >= 0.5 * before {
                break;
            }
            before = size;
            let add = |sum: &mut Vec<f64>, term: Vec<f64>| {
                sum.iter_mut().zip(term).for_each(|(sum, term)| *sum += term);
            };
            let unscaled = coefficients.iter().zip(&self.scales).map(|(value, scale)| value / scale);
            add(&mut solution.coefficients, unscaled.collect());
            add(&mut solution.residuals, residuals);
        }
        solution
    }

    /// The step from `solution` towards the exact one: coefficients of the scaled columns, residuals.
    fn correction(&self, y: &[f64], solution: &Solution) -> (Vec<f64>, Vec<f64>) {
        let p = self.columns.len();
        let row = |at: usize| self.columns.iter().map(move |column| column[at]);
        let rest_of_row = |at: usize| {
            let terms = row(at).zip(solution.coefficients.iter().map(|value| -value));
            dot(y[at], terms.chain([(solution.residuals[at], -1.0)]))
        };
        let mut rows: Vec<f64> = (0..y.len()).map(rest_of_row).collect();
        let mut sides: Vec<f64> = self
            .columns
            .iter()
            .zip(&self.scales)
            .map(|(column, scale)| {
                -dot(0.0, column.iter().copied().zip(solution.residuals.iter().copied())) / scale
            })
            .collect();
        self.solve_transposed(&mut sides);
        self.apply(&mut rows);
        let mut step: Vec<f64> = rows[..p].iter().zip(&sides).map(|(row, side)| row - side).collect();
        self.solve(&mut step);
        rows[..p].copy_from_slice(&sides);
        self.apply_back(&mut rows);
        (step, rows)
    }

    /// (X'X)^-1, symmetric, by rows.
    pub(super) fn inverse_of_normal(&self) -> Vec<Vec<f64>> {
        let p = self.columns.len();
        let inverse: Vec<Vec<f64>> = (0..p)
            .map(|at| {
                let mut column = vec![0.0; p];
                column[at] = 1.0;
                self.solve(&mut column);
                column
            })
            .collect();
        let entry = |i: usize, j: usize| -> f64 {
            let sum: f64 = inverse[i.max(j)..].iter().map(|column| column[i] * column[j]).sum();
            sum / self.scales[i] / self.scales[j]
        };
        (0..p).map(|i| (0..p).map(|j| entry(i, j)).collect()).collect()
    }
}

fn reflect(reflector: &[f64], vector: &mut [f64]) {
    let along: f64 = reflector.iter().zip(vector.iter()).map(|(r, v)| r * v).sum();
    vector.iter_mut().zip(reflector).for_each(|(v, r)| *v -= 2.0 * along * r);
}

/// Euclidean length, without overflow.
pub(super) fn norm(vector: &[f64]) -> f64 {
    let largest = vector.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
    if largest == 0.0 || !vector.iter().all(|value| value.is_finite()) {
        return if largest == 0.0 { 0.0 } else { f64::INFINITY };
    }
    largest * vector.iter().map(|value| (value / largest).powi(2)).sum::<f64>().sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hand_worked_problem() {
        let columns = [vec![1.0; 4], vec![0.0, 1.0, 2.0, 3.0]];
        let factors = Factors::of(&columns).unwrap();
        let solution = factors.least_squares(&[1.0, 3.0, 4.0, 8.0]);
        for (found, expected) in solution.coefficients.iter().zip([0.7, 2.2]) {
            assert!((found - expected).abs() < 1e-15);
        }
        for (found, expected) in solution.residuals.iter().zip([0.3, 0.1, -1.1, 0.7]) {
            assert!((found - expected).abs() < 1e-15);
        }
        let inverse = factors.inverse_of_normal();
        for (found, expected) in inverse.concat().iter().zip([0.7, -0.3, -0.3, 0.2]) {
            assert!((found - expected).abs() < 1e-14);
        }
    }

    #[test]
    fn dependent_columns_have_no_factors() {
        let one = vec![1.0, 2.0, 4.0];
        let thrice: Vec<f64> = one.iter().map(|value| 3.0 * value).collect();
        assert!(Factors::of(&[one.clone(), thrice]).is_none());
        assert!(Factors::of(&[one.clone(), vec![0.0; 3]]).is_none());
        assert!(Factors::of(&[one.clone(), vec![1.0, 2.0]]).is_none());
        assert!(Factors::of(&[vec![1.0], vec![2.0]]).is_none());
        assert!(Factors::of(&[]).is_none());
        assert!(Factors::of(&[one, vec![f64::NAN, 1.0, 1.0]]).is_none());
    }
}

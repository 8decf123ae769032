//! Nested analysis of variance of balanced data, and the variance that each level adds.

use super::super::distributions::t_quantile;
use super::super::summary::{mean, sorted_sum};

/// One level of a nested design.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Values behind one unit of this level.
    pub values: usize,
    /// Degrees of freedom.
    pub df: usize,
    /// Mean square, in the squared unit.
    pub mean_square: f64,
    /// Variance that this level adds, in the squared unit; below zero where the level scatters less
    /// than what lies below it explains.
    pub component: f64,
}

impl Level {
    /// The variance that this level adds, 0 where the estimate is below zero.
    pub fn held(&self) -> f64 {
        self.component.max(0.0)
    }
}

/// A nested analysis of variance.
#[derive(Clone, Debug, PartialEq)]
pub struct Nested {
    /// From the top; the last is the scatter of single values.
    pub levels: Vec<Level>,
    /// Mean of all values.
    pub mean: f64,
    /// Standard error of the mean, with the units of the top level as the sample.
    pub error: f64,
}

impl Nested {
    /// Interval of the mean at a confidence such as 0.95, on the degrees of freedom of the top level.
    pub fn mean_interval(&self, confidence: f64) -> Option<(f64, f64)> {
        let df = self.levels.first()?.df as f64;
        let half = t_quantile(f64::midpoint(1.0, confidence), df)? * self.error;
        Some((self.mean - half, self.mean + half))
    }
}

/// Analysis of variance of `values` that lie in a nest of the given `shape`, read from the top: with
/// `[8, 3, 5]` every 15 values are one of 8 tops, and every 5 of them one of its 3 units.
///
/// `None` where the product of the shape is not the number of values, where a level has fewer than
/// two units in each of those above it, or where a value is not finite. Components by equating mean
/// squares to what is expected of them, which is REML where none is below zero (Searle, Casella and
/// `McCulloch` 1992, Variance Components, chapter 3 and 4).
pub fn nested(values: &[f64], shape: &[usize]) -> Option<Nested> {
    if shape.is_empty() || shape.iter().any(|&n| n < 2) || shape.iter().product::<usize>() != values.len() {
        return None;
    }
    let mut levels: Vec<Level> = Vec::with_capacity(shape.len());
    let mut below = 0.0;
    for (at, &units) in shape.iter().enumerate().rev() {
        let size: usize = shape[at + 1..].iter().product();
        let df = values.len() / (size * units) * (units - 1);
        let mean_square = size as f64 * sum_between(values, size, units)? / df as f64;
        levels.push(Level { values: size, df, mean_square, component: (mean_square - below) / size as f64 });
        below = mean_square;
    }
    levels.reverse();
    Some(Nested { levels, mean: mean(values)?, error: (below / values.len() as f64).sqrt() })
}

/// Squared differences of the means of `size` values from the mean of the `units` that they lie with.
fn sum_between(values: &[f64], size: usize, units: usize) -> Option<f64> {
    let mut parts = Vec::with_capacity(values.len() / size);
    for parent in values.chunks(size * units) {
        let middle = mean(parent)?;
        for unit in parent.chunks(size) {
            parts.push((mean(unit)? - middle).powi(2));
        }
    }
    Some(sorted_sum(parts))
}

#[cfg(test)]
mod tests {
    use super::super::super::anova::one_way;
    use super::*;

    #[test]
    fn one_level_is_the_one_way_table() {
        let found = nested(&[1.0, 3.0, 4.0, 6.0, 7.0, 9.0], &[3, 2]).unwrap();
        let table = one_way(&[[1.0, 3.0], [4.0, 6.0], [7.0, 9.0]]).unwrap();
        let squares = (found.levels[0].mean_square, found.levels[1].mean_square);
        assert_eq!(squares, (table.ms_between, table.ms_within));
        assert_eq!((found.levels[0].df, found.levels[1].df), (2, 3));
        assert_eq!((found.levels[0].component, found.levels[1].component), (8.0, 2.0));
        assert_eq!((found.mean, found.error), (5.0, 3.0_f64.sqrt()));
    }

    #[test]
    fn sections_that_scatter_less_than_their_readings_add_nothing() {
        let found = nested(&[1.0, 9.0, 2.0, 8.0], &[2, 2]).unwrap();
        assert_eq!((found.levels[0].component < 0.0, found.levels[0].held()), (true, 0.0));
    }

    #[test]
    fn shapes_that_do_not_fit_are_none() {
        for shape in [&[][..], &[4], &[2, 1], &[1, 2], &[2, 3]] {
            assert_eq!(nested(&[1.0, 2.0], shape), None, "{shape:?}");
        }
        assert_eq!(nested(&[1.0, f64::NAN], &[2]), None);
        assert_eq!(nested(&[5.0; 4], &[2, 2]).unwrap().mean_interval(0.95), Some((5.0, 5.0)));
    }
}

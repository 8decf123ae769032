//! What a layout can tell apart where every treatment keeps a spread of its own.

use super::DRAWS;
use crate::stats::random::Generator;
use crate::stats::studentized_range::StudentizedRange;

/// Degrees of freedom at which the critical value is solved; between them it runs nearly straight in their inverse.
const NODES: usize = 12;

/// The smallest difference that Games-Howell's test of `groups` groups tells apart with 80 % power between two of them, with
/// `one` and `other` sections, in spreads of a section's number that both have.
///
/// The test does not know that their spreads are alike: it takes Welch's degrees of freedom from the readings (Games and Howell
/// 1976), so that the noncentral t distribution on their expected number would promise too much, 8 % with 4 sections each. Studies are
/// simulated instead; each tells the pair apart as soon as the true difference exceeds what it lacks, of which the figure is a
/// quantile. `None` below two sections in either, or two groups.
pub(super) fn smallest(groups: usize, one: usize, other: usize) -> Option<f64> {
    let critical = Critical::new(groups, one, other)?;
    let mut generator = Generator::new(DRAWS.seed);
    let mut lacks: Vec<f64> = (0..DRAWS.count)
        .map(|_| {
            let (a, b) = (drawn(&mut generator, one), drawn(&mut generator, other));
            let square = a.square + b.square;
            let (share, rest) = (a.square / square, b.square / square);
            let inverse = share * share / (one - 1) as f64 + rest * rest / (other - 1) as f64;
            critical.at(inverse) * square.sqrt() - (a.mean - b.mean)
        })
        .collect();
    let place = lacks.len() * 4 / 5;
    Some(*lacks.select_nth_unstable_by(place.checked_sub(1)?, f64::total_cmp).1)
}

/// The mean of a simulated treatment and the square of its standard error.
struct Drawn {
    mean: f64,
    square: f64,
}

fn drawn(generator: &mut Generator, n: usize) -> Drawn {
    let values: Vec<f64> = (0..n).map(|_| generator.normal()).collect();
    let mean = values.iter().sum::<f64>() / n as f64;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    Drawn { mean, square: squares / (n - 1) as f64 / n as f64 }
}

/// The critical value of a difference in standard errors, by the inverse of its degrees of freedom.
struct Critical {
    first: f64,
    step: f64,
    values: Vec<f64>,
}

impl Critical {
    fn new(groups: usize, one: usize, other: usize) -> Option<Self> {
        let fewest = one.min(other).checked_sub(1).filter(|&df| df > 0)?;
        let range = StudentizedRange::of(groups)?;
        let (first, last) = (1.0 / (one + other - 2) as f64, 1.0 / fewest as f64);
        let step = (last - first) / (NODES - 1) as f64;
        let value = |at: usize| {
            let critical = range.critical_value(0.05, 1.0 / (first + step * at as f64))?;
            Some(critical / std::f64::consts::SQRT_2)
        };
        let values: Option<Vec<f64>> = (0..NODES).map(value).collect();
        Some(Self { first, step, values: values? })
    }

    fn at(&self, inverse: f64) -> f64 {
        let place = ((inverse - self.first) / self.step).clamp(0.0, (NODES - 1) as f64);
        let below = (1..NODES - 1).take_while(|&node| node as f64 <= place).last().unwrap_or(0);
        let share = place - below as f64;
        self.values[below] * (1.0 - share) + self.values[below + 1] * share
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 400 000 simulated studies each by `numpy` 2 with critical values by `scipy` 1.17 (`studentized_range`): sections of the two,
    /// groups, and the difference that 80 % of the studies tell apart.
    const SIMULATED: [(usize, usize, usize, f64); 5] =
        [(4, 4, 3, 3.069), (4, 4, 5, 3.698), (4, 8, 5, 3.090), (6, 6, 5, 2.523), (8, 8, 3, 1.773)];

    #[test]
    fn figures_agree_with_studies_simulated_elsewhere() {
        for (one, other, groups, shift) in SIMULATED {
            let found = smallest(groups, one, other).unwrap();
            // A share of 0.80 of 10 000 has a standard error of 0.004; the density there is above 0.25 a spread.
            assert!((found - shift).abs() < 0.05, "{one}, {other} of {groups}: {found} and not {shift}");
        }
        assert_eq!((smallest(3, 1, 4), smallest(1, 4, 4)), (None, None));
    }
}

//! Analysis of covariance and tests by exchange against published examples.

use serde::Deserialize;
use tapeline::stats::ancova::{Point, adjust};
use tapeline::stats::permutation::{Tries, exchange};

use super::{near, read};

#[derive(Deserialize)]
struct Covariance {
    relative: f64,
    slope: f64,
    slope_error: f64,
    residual_squares: f64,
    df: f64,
    adjusted_means: Vec<f64>,
    differences_to_control: Vec<f64>,
    errors_of_differences: Vec<f64>,
    before: Vec<Vec<f64>>,
    after: Vec<Vec<f64>>,
}

#[test]
fn adjusted_means_agree_with_the_published_example() {
    let truth: Covariance = read(include_str!("covariance.toml"));
    let groups: Vec<Vec<Point>> = truth
        .before
        .iter()
        .zip(&truth.after)
        .map(|(before, after)| before.iter().copied().zip(after.iter().copied()).collect())
        .collect();
    let found = adjust(&groups).unwrap();
    let tolerance = (truth.relative, 0.0);
    near("slope", found.slope, truth.slope, tolerance);
    near("df", found.spread.df, truth.df, (0.0, 0.0));
    near("residual", found.spread.sd.powi(2) * found.spread.df, truth.residual_squares, tolerance);
    for (mean, expected) in found.means.iter().zip(&truth.adjusted_means) {
        near("adjusted mean", mean.mean, *expected, tolerance);
    }
    // t at 97.5 % on 26 degrees of freedom.
    let (low, high) = found.slope_interval(0.95).unwrap();
    near("slope error", (high - low) / 2.0 / 2.055_529_438_642_871, truth.slope_error, (1e-9, 0.0));
    let rows = found.against(2, 0.95).unwrap();
    let expected = truth.differences_to_control.iter().zip(&truth.errors_of_differences);
    for (row, (difference, error)) in rows.iter().zip(expected) {
        near("difference", row.difference, *difference, tolerance);
        near("its error", row.error, *error, tolerance);
        // Two comparisons need more than one t and less than Bonferroni's.
        let critical = (row.high - row.difference) / row.error;
        assert!(critical > 2.055_529 && critical < 2.379, "{critical}");
    }
}

#[derive(Deserialize)]
struct ByExchange {
    groups: Vec<Vec<f64>>,
    p: f64,
    arrangements: usize,
}

#[test]
fn exchange_counts_as_the_published_example_does() {
    let truth: ByExchange = read(include_str!("exchange.toml"));
    let values = truth.groups.concat();
    let labels: Vec<usize> =
        truth.groups.iter().enumerate().flat_map(|(at, group)| vec![at; group.len()]).collect();
    let tries = Tries { draws: 1_000, most: 10_000, seed: 1 };
    let found = exchange(&values, &labels, &[], tries).unwrap();
    assert_eq!((found.arrangements, found.all), (truth.arrangements, true));
    near("p", found.p, truth.p, (1e-12, 0.0));
}

//! Checks the statistics against certified data sets, published examples and library results.
//!
//! The facts lie in `tests/truth/`, each with its source; tolerances are those stated there.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use serde::Deserialize;
use tapeline::stats::GroupMean;
use tapeline::stats::summary::mean;

#[path = "truth/colour.rs"]
mod colour;
#[path = "truth/covariance.rs"]
mod covariance;
#[path = "truth/fits.rs"]
mod fits;
#[path = "truth/groups.rs"]
mod groups;
#[path = "truth/growth.rs"]
mod growth;
#[path = "truth/nature.rs"]
mod nature;
#[path = "truth/nonlinear.rs"]
mod nonlinear;
#[path = "truth/pairs.rs"]
mod pairs;
#[path = "truth/panel.rs"]
mod panel;
#[path = "truth/rank_tests.rs"]
mod rank_tests;
#[path = "truth/ranks.rs"]
mod ranks;
#[path = "truth/room.rs"]
mod room;
#[path = "truth/single.rs"]
mod single;
#[path = "truth/times.rs"]
mod times;

/// Fails unless `value` is within the relative or the absolute tolerance of `expected`.
#[track_caller]
fn near(what: &str, value: f64, expected: f64, (relative, absolute): (f64, f64)) {
    let off = (value - expected).abs();
    assert!(
        off <= absolute.max(relative * expected.abs()),
        "{what}: {value:e} instead of {expected:e}, off by {off:e}"
    );
}

fn read<T: for<'a> Deserialize<'a>>(text: &str) -> T {
    toml::from_str(text).unwrap()
}

fn group_mean(values: &[f64]) -> GroupMean {
    GroupMean { mean: mean(values).unwrap(), n: values.len() }
}

/// The rows of a table of numbers under its source and its heading.
fn rows(text: &str) -> impl Iterator<Item = Vec<f64>> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines.map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
}

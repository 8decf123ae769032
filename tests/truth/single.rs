//! One set of values, or one product against its control.

use serde::Deserialize;
use tapeline::stats::anova::pooled_spread;
use tapeline::stats::distributions::{t_quantile, t_tail};
use tapeline::stats::dunnett::against_control;
use tapeline::stats::grubbs::{critical_value, grubbs};
use tapeline::stats::solved::Solved;
use tapeline::stats::summary::{mean, median, sd, standard_error};
use tapeline::stats::welch;

use super::{group_mean, near, read, rows};

#[derive(Deserialize)]
struct Summaries {
    relative: f64,
    absolute: f64,
    set: Vec<Summary>,
}

#[derive(Deserialize)]
struct Summary {
    name: String,
    mean: f64,
    sd: f64,
    standard_error: f64,
    low_95: f64,
    high_95: f64,
    median: f64,
    relative_of_sd: f64,
    values: Vec<f64>,
}

#[test]
fn univariate_summaries_agree_with_the_certified_values() {
    let truth: Summaries = read(include_str!("summary.toml"));
    assert_eq!(truth.set.len(), 5);
    let (tolerance, absolute) = ((truth.relative, truth.absolute), truth.absolute);
    for set in &truth.set {
        let of_sd = (set.relative_of_sd, absolute);
        let (center, error) = (mean(&set.values).unwrap(), standard_error(&set.values).unwrap());
        near(&set.name, center, set.mean, tolerance);
        near(&set.name, sd(&set.values).unwrap(), set.sd, of_sd);
        near(&set.name, error, set.standard_error, of_sd);
        near(&set.name, median(&set.values).unwrap(), set.median, tolerance);
        let half = t_quantile(0.975, set.values.len() as f64 - 1.0).unwrap() * error;
        near(&set.name, center - half, set.low_95, tolerance);
        near(&set.name, center + half, set.high_95, tolerance);
    }
}

/// `NumAcc4` of the NIST Statistical Reference Datasets: mean 10000000.2 and sd 0.1, exactly.
#[test]
fn the_hardest_certified_summary_keeps_seven_digits() {
    let mut values = vec![10_000_000.2];
    values.extend([10_000_000.1, 10_000_000.3].repeat(500));
    near("mean", mean(&values).unwrap(), 10_000_000.2, (1e-10, 0.0));
    near("sd", sd(&values).unwrap(), 0.1, (1e-7, 0.0));
}

#[derive(Deserialize)]
struct Suspects {
    relative: f64,
    absolute: f64,
    relative_of_p: f64,
    set: Vec<Suspect>,
}

#[derive(Deserialize)]
struct Suspect {
    name: String,
    values: Vec<f64>,
    statistic: Option<f64>,
    index: Option<usize>,
    critical_two_sided: Option<f64>,
    critical_one_sided: Option<f64>,
    p_two_sided: Option<f64>,
    printed_statistic: Option<f64>,
    printed_critical_one_sided: Option<f64>,
}

#[test]
fn grubbs_agrees_with_the_published_examples() {
    let truth: Suspects = read(include_str!("grubbs.toml"));
    assert_eq!(truth.set.len(), 3);
    let tolerance = (truth.relative, truth.absolute);
    for set in &truth.set {
        let (found, n) = (grubbs(&set.values).unwrap(), set.values.len());
        let two_sided = critical_value(n, 0.05).unwrap();
        let one_sided = critical_value(n, 0.10).unwrap();
        let check = |value: f64, expected: Option<f64>, tolerance: (f64, f64)| {
            expected.inspect(|&expected| near(&set.name, value, expected, tolerance)).is_some()
        };
        let exact = check(found.statistic, set.statistic, tolerance)
            && check(two_sided, set.critical_two_sided, tolerance)
            && check(one_sided, set.critical_one_sided, tolerance)
            && check(found.p, set.p_two_sided, (truth.relative_of_p, 1e-13))
            && set.index == Some(found.index);
        let printed = check(found.statistic, set.printed_statistic, (0.0, 5e-6))
            && check(one_sided, set.printed_critical_one_sided, (0.0, 5e-5));
        assert!(exact || printed, "{}", set.name);
    }
}

#[derive(Deserialize)]
struct Changes {
    relative: f64,
    absolute: f64,
    paired: Vec<Paired>,
    against_control: Vec<AgainstControl>,
}

#[derive(Deserialize)]
struct Paired {
    name: String,
    changes: Vec<f64>,
    mean: f64,
    sd: f64,
    standard_error: f64,
    t: f64,
    df: f64,
    p: f64,
    low_95: f64,
    high_95: f64,
}

#[derive(Deserialize)]
struct AgainstControl {
    name: String,
    product: Vec<f64>,
    control: Vec<f64>,
    difference: f64,
    df: f64,
    t: f64,
    p: f64,
    low_95: f64,
    high_95: f64,
    welch: [f64; 6],
}

#[test]
fn paired_changes_agree_with_the_library_results() {
    let truth: Changes = read(include_str!("changes.toml"));
    assert_eq!(truth.paired.len(), 3);
    let tolerance = (truth.relative, truth.absolute);
    for set in &truth.paired {
        let (center, error) = (mean(&set.changes).unwrap(), standard_error(&set.changes).unwrap());
        near(&set.name, center, set.mean, tolerance);
        near(&set.name, sd(&set.changes).unwrap(), set.sd, tolerance);
        near(&set.name, error, set.standard_error, tolerance);
        near(&set.name, center / error, set.t, tolerance);
        near(&set.name, 2.0 * t_tail(set.t.abs(), set.df).unwrap(), set.p, tolerance);
        let half = t_quantile(0.975, set.df).unwrap() * error;
        near(&set.name, center - half, set.low_95, tolerance);
        near(&set.name, center + half, set.high_95, tolerance);
    }
}

/// One product against its control is the smallest family of comparisons: the pooled t test.
#[test]
fn one_product_against_its_control_is_the_pooled_t_test() {
    let truth: Changes = read(include_str!("changes.toml"));
    assert_eq!(truth.against_control.len(), 3);
    let tolerance = (truth.relative, truth.absolute);
    for set in &truth.against_control {
        let spread = pooled_spread(&[&set.product, &set.control]).unwrap();
        near(&set.name, spread.df, set.df, (0.0, 0.0));
        let (product, control) = (group_mean(&set.product), group_mean(&set.control));
        let found = against_control(&[product], control, spread, 0.95, &mut Solved::default()).unwrap()[0];
        near(&set.name, found.difference, set.difference, tolerance);
        near(&set.name, found.p, set.p, tolerance);
        near(&set.name, found.low, set.low_95, tolerance);
        near(&set.name, found.high, set.high_95, tolerance);
        near(&set.name, 2.0 * t_tail(set.t, set.df).unwrap(), set.p, tolerance);
    }
}

/// The same with a spread of its own for each.
#[test]
fn one_product_with_its_own_spread_agrees_with_welchs_t() {
    let truth: Changes = read(include_str!("changes.toml"));
    let tolerance = (truth.relative, truth.absolute);
    for set in &truth.against_control {
        let alone = welch::difference(&set.product, &set.control).unwrap();
        let (low, high) = alone.interval(0.95).unwrap();
        let t = alone.difference / alone.error;
        let found = [alone.error, alone.df, t, alone.p().unwrap(), low, high];
        for (value, expected) in found.into_iter().zip(set.welch) {
            near(&set.name, value, expected, tolerance);
        }
    }
}

#[test]
fn critical_values_of_grubbs_agree_with_the_table() {
    let two_sided_levels = [0.2, 0.1, 0.05, 0.02, 0.01, 0.1, 0.05, 0.01];
    let mut checked = 0;
    for row in rows(include_str!("grubbs_critical.csv")) {
        let n = (3..=100).find(|&n| (n as f64 - row[0]).abs() < 0.5).unwrap();
        for (alpha, &expected) in two_sided_levels.iter().zip(&row[1..]) {
            near("limit", critical_value(n, *alpha).unwrap(), expected, (0.0, 5.000_001e-5));
            checked += 1;
        }
    }
    assert_eq!(checked, 42 * 8);
}

#[test]
fn quantiles_of_t_agree_with_the_table() {
    let mut checked = 0;
    for row in rows(include_str!("t_critical.csv")) {
        for (p, &expected) in [0.9, 0.95, 0.975, 0.99, 0.995].iter().zip(&row[1..]) {
            near("quantile", t_quantile(*p, row[0]).unwrap(), expected, (0.0, 5.000_001e-5));
            checked += 1;
        }
    }
    assert_eq!(checked, 33 * 5);
}

//! All pairs of groups, with one common spread and with spreads of their own; p values looked at together.

use serde::Deserialize;
use tapeline::stats::anova::pooled_spread;
use tapeline::stats::studentized_range::StudentizedRange;
use tapeline::stats::{GroupMean, Pair, games_howell, holm, tukey, welch};

use super::{group_mean, near, read, rows};

#[derive(Deserialize)]
struct Tails {
    relative: f64,
    relative_of_points: f64,
    tail: Vec<Tail>,
    upper_point: Vec<UpperPoint>,
}

#[derive(Deserialize)]
struct UpperPoint {
    k: usize,
    df: f64,
    q: f64,
}

#[derive(Deserialize)]
struct Tail {
    q: f64,
    k: usize,
    df: f64,
    chance: f64,
}

#[test]
fn tails_of_the_studentised_range_agree_with_another_program() {
    let truth: Tails = read(include_str!("studentized_range.toml"));
    assert_eq!((truth.tail.len(), truth.upper_point.len()), (12, 3));
    for row in &truth.upper_point {
        let found = StudentizedRange::of(row.k).unwrap().critical_value(0.05, row.df).unwrap();
        near("upper point", found, row.q, (truth.relative_of_points, 0.0));
    }
    for row in &truth.tail {
        let range = StudentizedRange::of(row.k).unwrap();
        let what = format!("q {} of {} at {} df", row.q, row.k, row.df);
        near(&what, range.tail(row.q, row.df).unwrap(), row.chance, (truth.relative, 0.0));
    }
}

#[test]
fn upper_points_of_the_studentised_range_agree_with_the_table() {
    let mut checked = 0;
    for row in rows(include_str!("studentized_range.csv")) {
        for (index, &expected) in row[2..].iter().enumerate() {
            let range = StudentizedRange::of(index + 2).unwrap();
            near("upper point", range.critical_value(row[0], row[1]).unwrap(), expected, (0.0, 5.000_001e-4));
            checked += 1;
        }
    }
    assert_eq!(checked, 40 * 9);
}

#[derive(Deserialize)]
struct Studies {
    relative: f64,
    absolute: f64,
    relative_of_p: f64,
    absolute_of_p: f64,
    study: Vec<Study>,
}

#[derive(Deserialize)]
struct Study {
    name: String,
    df: f64,
    mean_square: f64,
    critical: f64,
    welch: [f64; 4],
    groups: Vec<Vec<f64>>,
    pair: Vec<Expected>,
}

#[derive(Deserialize)]
struct Expected {
    one: usize,
    other: usize,
    tukey: [f64; 4],
    games_howell: [f64; 4],
}

#[test]
fn all_pairs_agree_with_the_libraries() {
    let truth: Studies = read(include_str!("pairs.toml"));
    assert_eq!(truth.study.iter().map(|study| study.pair.len()).collect::<Vec<_>>(), [3, 15]);
    for study in &truth.study {
        check_common_spread(study, &truth);
        check_own_spreads(study, &truth);
    }
}

fn check_common_spread(study: &Study, truth: &Studies) {
    let tolerance = (truth.relative, truth.absolute);
    let spread = pooled_spread(&study.groups).unwrap();
    near(&study.name, spread.df, study.df, (0.0, 0.0));
    near(&study.name, spread.sd.powi(2), study.mean_square, tolerance);
    let range = StudentizedRange::of(study.groups.len()).unwrap();
    near(&study.name, range.critical_value(0.05, spread.df).unwrap(), study.critical, tolerance);
    let groups: Vec<GroupMean> = study.groups.iter().map(|values| group_mean(values)).collect();
    let found = tukey::all_pairs(&groups, spread, 0.95).unwrap();
    for (found, expected) in found.iter().zip(sorted(study)) {
        check_pair(found, expected, expected.tukey, truth);
    }
}

fn check_own_spreads(study: &Study, truth: &Studies) {
    let tolerance = (truth.relative, truth.absolute);
    let table = welch::one_way(&study.groups).unwrap();
    let values = [table.f, table.df_between, table.df_within, table.p];
    for (value, expected) in values.into_iter().zip(study.welch) {
        near(&study.name, value, expected, (1e-9, 1e-13));
    }
    let found = games_howell::all_pairs(&study.groups, 0.95).unwrap();
    for (found, expected) in found.iter().zip(sorted(study)) {
        let [df, low, high, p] = expected.games_howell;
        check_pair(found, expected, [expected.tukey[0], low, high, p], truth);
        let alone = welch::difference(&study.groups[expected.one], &study.groups[expected.other]).unwrap();
        near(&study.name, alone.df, df, tolerance);
    }
}

/// The expected pairs in the order of the routines.
fn sorted(study: &Study) -> Vec<&Expected> {
    let mut pairs: Vec<&Expected> = study.pair.iter().collect();
    pairs.sort_by_key(|pair| (pair.one, pair.other));
    pairs
}

/// The libraries subtract the earlier group from the later one.
fn check_pair(found: &Pair, expected: &Expected, values: [f64; 4], truth: &Studies) {
    assert_eq!((found.one, found.other), (expected.one, expected.other));
    let what = format!("{} against {}", found.other, found.one);
    let tolerance = (truth.relative, truth.absolute);
    near(&what, -found.difference, values[0], tolerance);
    near(&what, -found.high, values[1], tolerance);
    near(&what, -found.low, values[2], tolerance);
    near(&what, found.p, values[3], (truth.relative_of_p, truth.absolute_of_p));
}

/// Four groups of five, printed: NIST/SEMATECH e-Handbook of Statistical Methods, 7.4.7.1; the figures
/// from memory. The half width there follows from a range rounded to 4.046, which moves it by up to 0.00026.
#[test]
fn the_worked_example_agrees_at_its_printed_digits() {
    let means = [5.34, 7.72, 8.56, 5.50].map(|mean| GroupMean { mean, n: 5 });
    let spread = tapeline::stats::Spread { sd: 1.330_75_f64.sqrt(), df: 16.0 };
    let found = tukey::all_pairs(&means, spread, 0.95).unwrap();
    let told_apart: Vec<bool> = found.iter().map(|pair| pair.low > 0.0 || pair.high < 0.0).collect();
    assert_eq!(told_apart, [true, true, false, false, true, true]);
    for pair in &found {
        near("half width", (pair.high - pair.low) / 2.0, 2.0873, (0.0, 2.6e-4));
    }
}

/// Welch's t of two groups with unequal numbers, after the NIST/SEMATECH e-Handbook, 7.3.1; the data
/// from memory, the result recomputed with `SciPy` 1.17.1.
#[test]
fn welchs_t_agrees_with_the_worked_example() {
    let old = [32.0, 37.0, 35.0, 28.0, 41.0, 44.0, 35.0, 31.0, 34.0, 38.0, 42.0];
    let new = [36.0, 31.0, 30.0, 31.0, 34.0, 36.0, 29.0, 32.0, 31.0];
    let found = welch::difference(&old, &new).unwrap();
    near("t", found.difference / found.error, 2.26937, (0.0, 5e-6));
    near("df", found.df, 15.533, (0.0, 5e-4));
    near("p", found.p().unwrap(), 0.037_879, (0.0, 5e-7));
}

#[derive(Deserialize)]
struct Together {
    relative: f64,
    p: Vec<f64>,
    holm: Vec<f64>,
}

#[test]
fn p_values_adjusted_together_agree_with_the_library() {
    let truth: Together = read(include_str!("holm.toml"));
    let found = holm::adjusted(&truth.p).unwrap();
    assert_eq!(found.len(), 15);
    for (found, expected) in found.iter().zip(&truth.holm) {
        near("adjusted p", *found, *expected, (truth.relative, 1e-15));
    }
}

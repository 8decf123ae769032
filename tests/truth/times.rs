//! Time to an event: known to the day, or between two looks.

use serde::Deserialize;
use tapeline::stats::time_to::kaplan_meier::{Scale, curve, interval_of_time, mean_up_to, time_to_share};
use tapeline::stats::time_to::log_rank::{Weight, log_rank};
use tapeline::stats::time_to::turnbull::{Seen, estimate};

use super::{near, read};

#[derive(Deserialize)]
struct BetweenLooks {
    absolute: f64,
    relative_of_likelihood: f64,
    set: Vec<Looks>,
}

#[derive(Deserialize)]
struct Looks {
    name: String,
    log_likelihood: f64,
    median: [f64; 2],
    seen: Vec<[f64; 2]>,
    masses: Vec<[f64; 3]>,
    left: Vec<[f64; 2]>,
}

/// -1 stands for "not yet" and for "cannot be told".
fn known(value: f64) -> Option<f64> {
    (value >= 0.0).then_some(value)
}

#[test]
fn times_between_looks_agree_with_the_published_estimates() {
    let truth: BetweenLooks = read(include_str!("between_looks.toml"));
    assert_eq!(truth.set.len(), 3);
    for set in &truth.set {
        let seen: Vec<Seen> =
            set.seen.iter().map(|&[after, upto]| Seen { after, upto: known(upto) }).collect();
        let found = estimate(&seen).unwrap();
        near(&set.name, found.log_likelihood, set.log_likelihood, (truth.relative_of_likelihood, 0.0));
        assert_eq!(found.stretches.len(), set.masses.len(), "{}", set.name);
        for (stretch, &[after, upto, share]) in found.stretches.iter().zip(&set.masses) {
            assert_eq!((stretch.after, stretch.upto), (after, known(upto)), "{}", set.name);
            near(&set.name, stretch.share, share, (0.0, truth.absolute));
        }
        for &[time, share] in &set.left {
            near(&set.name, found.left_at(time).unwrap(), share, (0.0, truth.absolute));
        }
        let median = found.median().unwrap();
        assert_eq!((median.after, median.upto), (set.median[0], Some(set.median[1])), "{}", set.name);
    }
}

#[derive(Deserialize)]
struct ToTheDay {
    relative: f64,
    absolute: f64,
    set: Vec<Watched>,
    pace: Pace,
}

#[derive(Deserialize)]
struct Watched {
    name: String,
    median: f64,
    quarter: f64,
    intervals_of_median: [[f64; 2]; 3],
    horizon: f64,
    mean: f64,
    people: Vec<[f64; 2]>,
    steps: Vec<[f64; 11]>,
}

#[derive(Deserialize)]
struct Pace {
    observed: [usize; 2],
    expected: [f64; 2],
    chi_square: f64,
    p: f64,
    chi_square_by_watched: f64,
    p_by_watched: f64,
}

impl Watched {
    fn times(&self) -> Vec<(f64, bool)> {
        self.people.iter().map(|&[time, met]| (time, met > 0.0)).collect()
    }
}

const SCALES: [Scale; 3] = [Scale::Plain, Scale::Log, Scale::LogLog];

#[test]
fn times_to_the_day_agree_with_the_published_curves() {
    let truth: ToTheDay = read(include_str!("to_the_day.toml"));
    let tolerance = (truth.relative, truth.absolute);
    assert_eq!(truth.set.len(), 3);
    for set in &truth.set {
        let steps = curve(&set.times()).unwrap();
        assert_eq!(steps.len(), set.steps.len(), "{}", set.name);
        for (step, expected) in steps.iter().zip(&set.steps) {
            let counts = (step.time, step.at_risk as f64, step.events as f64);
            assert_eq!(counts, (expected[0], expected[1], expected[2]), "{}", set.name);
            near(&set.name, step.left, expected[3], tolerance);
            assert_eq!(step.error.is_some(), expected[4] >= 0.0, "{}", set.name);
            step.error.iter().for_each(|&error| near(&set.name, error, expected[4], tolerance));
            for (at, scale) in SCALES.into_iter().enumerate() {
                let Some((low, high)) = step.interval(scale, 0.95) else {
                    assert!(expected[5 + 2 * at] < 0.0, "{}", set.name);
                    continue;
                };
                near(&set.name, low, expected[5 + 2 * at], tolerance);
                near(&set.name, high, expected[6 + 2 * at], tolerance);
            }
        }
        assert_eq!(time_to_share(&steps, 0.5), Some(set.median), "{}", set.name);
        assert_eq!(time_to_share(&steps, 0.75), Some(set.quarter), "{}", set.name);
        for (scale, [low, high]) in SCALES.into_iter().zip(set.intervals_of_median) {
            let found = interval_of_time(&steps, 0.5, scale, 0.95);
            assert_eq!(found, (known(low), known(high)), "{} {scale:?}", set.name);
        }
        near(&set.name, mean_up_to(&steps, set.horizon), set.mean, tolerance);
    }
}

#[test]
fn the_pace_of_two_groups_agrees_with_the_published_test() {
    let truth: ToTheDay = read(include_str!("to_the_day.toml"));
    let tolerance = (truth.relative, truth.absolute);
    let groups = [truth.set[0].times(), truth.set[1].times()];
    let of = |weight: Weight| log_rank([&groups[0], &groups[1]], weight).unwrap();
    let (even, watched) = (of(Weight::Even), of(Weight::Watched));
    assert_eq!(even.observed, truth.pace.observed);
    near("expected", even.expected[0], truth.pace.expected[0], tolerance);
    near("expected", even.expected[1], truth.pace.expected[1], tolerance);
    near("chi-square", even.chi_square, truth.pace.chi_square, tolerance);
    near("p", even.p, truth.pace.p, tolerance);
    near("chi-square", watched.chi_square, truth.pace.chi_square_by_watched, tolerance);
    near("p", watched.p, truth.pace.p_by_watched, tolerance);
}

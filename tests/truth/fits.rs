//! Lines, trends, linear regression and the decay to a floor.

use serde::Deserialize;
use tapeline::stats::distributions::t_quantile;
use tapeline::stats::fit::decay::{Estimate, to_floor};
use tapeline::stats::fit::linear::regress;
use tapeline::stats::fit::nonlinear::{self, Curve};
use tapeline::stats::trend::line::fit;
use tapeline::stats::trend::mann_kendall::test;
use tapeline::stats::trend::theil_sen::slope;

use super::{near, read};

#[derive(Deserialize)]
struct Regressions {
    set: Vec<Regression>,
}

#[derive(Deserialize)]
struct Regression {
    name: String,
    relative: f64,
    powers: Vec<i32>,
    #[serde(default)]
    x: Vec<f64>,
    #[serde(default)]
    columns: Vec<Vec<f64>>,
    y: Vec<f64>,
    coefficients: Vec<f64>,
    errors: Vec<f64>,
    residual_sd: f64,
    r_squared: f64,
}

#[test]
fn linear_regressions_agree_with_the_certified_values() {
    let truth: Regressions = read(include_str!("regression.toml"));
    assert_eq!(truth.set.len(), 11);
    for set in &truth.set {
        let power = |power: &i32| set.x.iter().map(|x| x.powi(*power)).collect();
        let mut columns: Vec<Vec<f64>> = set.powers.iter().map(power).collect();
        if columns.is_empty() {
            columns.push(vec![1.0; set.y.len()]);
            columns.extend(set.columns.clone());
        }
        let found = regress(&columns, &set.y).unwrap();
        // Where the certified scatter is 0, what is left of the digits of the values is none of it.
        let largest = set.y.iter().fold(0.0_f64, |largest, y| largest.max(y.abs()));
        let tolerance = |absolute: f64| (set.relative, absolute);
        for (value, expected) in found.coefficients.iter().zip(&set.coefficients) {
            near(&set.name, *value, *expected, tolerance(0.0));
        }
        for (value, expected) in found.errors().unwrap().iter().zip(&set.errors) {
            near(&set.name, *value, *expected, tolerance(1e-13 * largest));
        }
        near(&set.name, found.spread.unwrap().sd, set.residual_sd, tolerance(1e-14 * largest));
        near(&set.name, found.r_squared.unwrap(), set.r_squared, tolerance(0.0));
    }
}

#[derive(Deserialize)]
struct Lines {
    relative: f64,
    absolute: f64,
    relative_of_p: f64,
    line: Vec<Line>,
}

#[derive(Deserialize)]
struct Line {
    name: String,
    x: Vec<f64>,
    y: Vec<f64>,
    coefficients: [f64; 4],
    df: f64,
    residual_sd: f64,
    r_squared: f64,
    p: f64,
    slope_95: [f64; 2],
    #[serde(default)]
    at: Vec<[f64; 6]>,
    crossing: Option<[f64; 4]>,
}

#[test]
fn lines_and_their_intervals_agree_with_exact_arithmetic() {
    let truth: Lines = read(include_str!("lines.toml"));
    assert_eq!(truth.line.len(), 3);
    let tolerance = (truth.relative, truth.absolute);
    for set in &truth.line {
        let line = fit(&set.x, &set.y).unwrap();
        let check = |value: f64, expected: f64| near(&set.name, value, expected, tolerance);
        let [intercept, slope, intercept_error, slope_error] = set.coefficients;
        check(line.intercept, intercept);
        check(line.slope, slope);
        check(line.intercept_error().unwrap(), intercept_error);
        check(line.slope_error().unwrap(), slope_error);
        check(line.spread.unwrap().df, set.df);
        check(line.spread.unwrap().sd, set.residual_sd);
        check(line.r_squared.unwrap(), set.r_squared);
        near(&set.name, line.slope_p().unwrap(), set.p, (truth.relative_of_p, 1e-15));
        let both = |found: (f64, f64), expected: &[f64]| {
            check(found.0, expected[0]);
            check(found.1, expected[1]);
        };
        both(line.slope_interval(0.95).unwrap(), &set.slope_95);
        for row in &set.at {
            check(line.at(row[0]), row[1]);
            both(line.mean_interval(row[0], 0.95).unwrap(), &row[2..4]);
            both(line.new_interval(row[0], 0.95).unwrap(), &row[4..6]);
        }
        if let Some([level, at, low, high]) = set.crossing {
            let crossing = line.crossing(level, 0.95).unwrap();
            check(crossing.at, at);
            both(crossing.interval.unwrap(), &[low, high]);
        }
    }
}

#[derive(Deserialize)]
struct Trends {
    relative: f64,
    series: Vec<Series>,
}

#[derive(Deserialize)]
struct Series {
    name: String,
    x: Vec<f64>,
    y: Vec<f64>,
    mann_kendall: [f64; 4],
    p_exact: Option<f64>,
    slope: f64,
    intercept: f64,
    low_95: [f64; 2],
    high_95: [f64; 2],
}

#[test]
fn trends_agree_with_the_libraries() {
    let truth: Trends = read(include_str!("trends.toml"));
    assert_eq!(truth.series.len(), 2);
    let tolerance = (truth.relative, 1e-12);
    for set in &truth.series {
        let check = |value: f64, expected: f64| near(&set.name, value, expected, tolerance);
        let found = test(&set.x, &set.y).unwrap();
        let values = [found.s, found.variance, found.tau, found.p_normal];
        values.into_iter().zip(set.mann_kendall).for_each(|(value, expected)| check(value, expected));
        assert_eq!(found.p_exact.is_some(), set.p_exact.is_some());
        found.p_exact.zip(set.p_exact).inspect(|&(value, expected)| check(value, expected));
        let line = slope(&set.x, &set.y, 0.95).unwrap();
        check(line.slope, set.slope);
        check(line.intercept, set.intercept);
        let (low, high) = line.interval.unwrap();
        assert!(set.low_95[0] - 1e-9 <= low && low <= set.low_95[1] + 1e-9, "{}: {low}", set.name);
        assert!(set.high_95[0] - 1e-9 <= high && high <= set.high_95[1] + 1e-9, "{}: {high}", set.name);
    }
}

#[derive(Deserialize)]
struct Decays {
    relative: f64,
    relative_of_error: f64,
    decay: Vec<Decay>,
    to_zero: ToZero,
}

#[derive(Deserialize)]
struct Decay {
    name: String,
    x: Vec<f64>,
    y: Vec<f64>,
    parameters: [f64; 3],
    errors: [f64; 3],
    residual_sd: f64,
    df: f64,
    half_life: [f64; 2],
    time_at: [f64; 3],
    intervals: [[f64; 2]; 5],
}

#[derive(Deserialize)]
struct ToZero {
    parameters: [f64; 2],
    errors: [f64; 2],
    intervals: [[f64; 2]; 2],
    squares: f64,
    residual_sd: f64,
    df: f64,
    time_at: [f64; 3],
    by_logarithms: [f64; 3],
}

#[test]
fn falls_to_a_floor_agree_with_the_library() {
    let truth: Decays = read(include_str!("decay.toml"));
    assert_eq!(truth.decay.len(), 2);
    for set in &truth.decay {
        let found = to_floor(&set.x, &set.y, 0.95).unwrap();
        let check = |found: Estimate, value: f64, error: f64| {
            near(&set.name, found.value, value, (truth.relative, 0.0));
            near(&set.name, found.error, error, (truth.relative_of_error, 0.0));
        };
        for (at, parameter) in found.parameters().into_iter().enumerate() {
            check(parameter, set.parameters[at], set.errors[at]);
        }
        near(&set.name, found.residual_sd(), set.residual_sd, (truth.relative, 0.0));
        near(&set.name, found.df(), set.df, (0.0, 0.0));
        check(found.half_life(), set.half_life[0], set.half_life[1]);
        let [level, time, error] = set.time_at;
        check(found.time_at(level).unwrap(), time, error);
        let t = t_quantile(0.975, found.df()).unwrap();
        let rest = [found.half_life(), found.time_at(level).unwrap()];
        for (one, [low, high]) in found.parameters().into_iter().chain(rest).zip(set.intervals) {
            near(&set.name, one.value - t * one.error, low, (truth.relative, 0.0));
            near(&set.name, one.value + t * one.error, high, (truth.relative, 0.0));
        }
    }
}

struct Fading;

impl Curve for Fading {
    fn value(&self, parameters: &[f64], x: f64) -> f64 {
        parameters[0] * (-parameters[1] * x).exp()
    }
    fn slopes(&self, parameters: &[f64], x: f64) -> Vec<f64> {
        let fading = (-parameters[1] * x).exp();
        vec![fading, -parameters[0] * x * fading]
    }
}

#[test]
fn falls_to_zero_agree_with_the_library() {
    let truth: Decays = read(include_str!("decay.toml"));
    let (set, expected, tolerance) = (&truth.decay[1], truth.to_zero, (truth.relative, 0.0));
    let found = nonlinear::fit(&Fading, &set.x, &set.y, &[80.0, 0.1]).unwrap();
    let (spread, errors) = (found.spread.unwrap(), found.errors().unwrap());
    near("squares", found.squares, expected.squares, tolerance);
    near("scatter", spread.sd, expected.residual_sd, tolerance);
    near("df", spread.df, expected.df, (0.0, 0.0));
    let t = t_quantile(0.975, spread.df).unwrap();
    for (at, &error) in errors.iter().enumerate() {
        let (value, [low, high]) = (found.parameters[at], expected.intervals[at]);
        near("parameter", value, expected.parameters[at], tolerance);
        near("error", error, expected.errors[at], (truth.relative_of_error, 0.0));
        near("low", value - t * error, low, tolerance);
        near("high", value + t * error, high, tolerance);
    }
    // When it reaches a level, with the derivatives of ln(drop / level) / rate by drop and by rate.
    let ([level, time, error], drop, rate) = (expected.time_at, found.parameters[0], found.parameters[1]);
    let at = (drop / level).ln() / rate;
    let slopes = [1.0 / drop / rate, -at / rate];
    let term = |one: usize, other: usize| slopes[one] * slopes[other] * found.covariance(one, other).unwrap();
    near("time", at, time, tolerance);
    let found_error = (term(0, 0) + 2.0 * term(0, 1) + term(1, 1)).sqrt();
    near("error of the time", found_error, error, (truth.relative_of_error, 0.0));

    let logarithms: Vec<f64> = set.y.iter().map(|y| y.ln()).collect();
    let line = fit(&set.x, &logarithms).unwrap();
    let found = [line.intercept.exp(), -line.slope, line.slope_error().unwrap()];
    for (value, expected) in found.into_iter().zip(expected.by_logarithms) {
        near("by logarithms", value, expected, tolerance);
    }
}

/// The mean level of a straight fall is that of its middle: common knowledge, no source.
#[test]
fn the_area_under_a_parabola_nears_its_integral() {
    let times: Vec<f64> = (0..=1000).map(|step| f64::from(step) / 100.0).collect();
    let values: Vec<f64> = times.iter().map(|time| time * time).collect();
    let found = tapeline::stats::trend::area::trapezoid(&times, &values).unwrap();
    // The trapezoid rule is above by step^2 / 12 x (rise of the slope), here exactly.
    near("area", found.area, 1000.0 / 3.0 + 1e-4 / 12.0 * 20.0, (1e-13, 0.0));
    near("level", found.mean_level(), found.area / 10.0, (1e-15, 0.0));
}

//! How gloss ran over the months: lines, trends, and falls of the mean levels of each treatment.

use super::{MONTHS, Tolerance, read, with_outlier, without_outlier};
use serde::Deserialize;
use tapeline::stats::fit::decay::{NoDecay, to_floor};
use tapeline::stats::fit::nonlinear::{Curve, fit};
use tapeline::stats::trend::{line, mann_kendall, theil_sen};

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    relative_of_falls: f64,
    rates_near_the_true_ones: usize,
    series: Vec<Series>,
}

#[derive(Deserialize)]
struct Series {
    name: String,
    with_outlier: bool,
    line: Option<[f64; 5]>,
    to_zero: [f64; 5],
    to_floor: [f64; 7],
    mann_kendall: [f64; 4],
    p_exact: Option<f64>,
    theil_sen: [f64; 2],
    ends: [[f64; 2]; 2],
    times: Option<[f64; 2]>,
    true_rate: Option<f64>,
}

/// Every series with the mean levels that the analysis gives.
fn truth() -> (Truth, Vec<Vec<f64>>) {
    let truth: Truth = read(include_str!("over_time.toml"));
    let (with, without) = (with_outlier(), without_outlier());
    let study = |series: &Series| if series.with_outlier { &with } else { &without };
    let means = truth.series.iter().map(|series| study(series).means(&series.name)).collect();
    assert_eq!(truth.series.len(), 6);
    (truth, means)
}

#[test]
fn lines_and_trends_agree() {
    let (truth, means) = truth();
    let mut lines = 0;
    for (series, means) in truth.series.iter().zip(&means) {
        let (name, tolerance) = (&series.name, truth.tolerance);
        if let Some(expected) = series.line {
            let found = line::fit(&MONTHS, means).unwrap();
            let rest = [found.slope_error().unwrap(), found.spread.unwrap().sd, found.r_squared.unwrap()];
            tolerance.all(name, [found.intercept, found.slope, rest[0], rest[1], rest[2]], expected);
            lines += 1;
        }
        let found = mann_kendall::test(&MONTHS, means).unwrap();
        tolerance.all(name, [found.s, found.variance, found.tau, found.p_normal], series.mann_kendall);
        series.p_exact.inspect(|&exact| tolerance.near(name, found.p_exact.unwrap(), exact));
        let found = theil_sen::slope(&MONTHS, means, 0.95).unwrap();
        tolerance.all(name, [found.slope, found.intercept], series.theil_sen);
        let (low, high) = found.interval.unwrap();
        for (end, [least, most]) in [low, high].into_iter().zip(series.ends) {
            assert!((least - 1e-9..=most + 1e-9).contains(&end), "{name}: {end}");
        }
    }
    assert_eq!(lines, 5);
}

struct ToZero;

impl Curve for ToZero {
    fn value(&self, parameters: &[f64], x: f64) -> f64 {
        parameters[0] * (-parameters[1] * x).exp()
    }
    fn slopes(&self, parameters: &[f64], x: f64) -> Vec<f64> {
        let fading = (-parameters[1] * x).exp();
        vec![fading, -parameters[0] * x * fading]
    }
}

#[test]
fn falls_agree() {
    let (truth, means) = truth();
    let of_falls = Tolerance { relative: truth.relative_of_falls, absolute: truth.tolerance.absolute };
    let (mut near, mut settled) = (0, Vec::new());
    for (series, means) in truth.series.iter().zip(&means) {
        let name = &series.name;
        let found = fit(&ToZero, &MONTHS, means, &[80.0, 0.1]).unwrap();
        let (at, errors) = (&found.parameters, found.errors().unwrap());
        of_falls.all(name, [at[0], at[1], errors[0], errors[1], found.squares], series.to_zero);
        // Five means settle a floor for few of these; a low confidence lets all of them through with the same numbers.
        let found = to_floor(&MONTHS, means, 0.5).unwrap();
        let [floor, drop, rate] = found.parameters();
        let squares = found.residual_sd().powi(2) * found.df();
        of_falls.all(
            name,
            [floor.value, drop.value, rate.value, floor.error, drop.error, rate.error, squares],
            series.to_floor,
        );
        if let Some(expected) = series.times {
            let times = [found.half_life().value, found.time_at(60.0).unwrap().value];
            of_falls.all(name, times, expected);
        }
        let close = |true_rate: f64| (rate.value - true_rate).abs() <= 2.0 * rate.error;
        near += usize::from(series.true_rate.is_some_and(close));
        match to_floor(&MONTHS, means, 0.95) {
            Ok(_) => settled.push((name.as_str(), series.with_outlier)),
            Err(why) => assert_eq!(why, NoDecay::Unsettled, "{name}"),
        }
    }
    assert_eq!(near, truth.rates_near_the_true_ones);
    // The two others whose rate is more than 4.303 of its errors; the outlier makes a floor seem settled that is not.
    assert_eq!(settled, [("third", false), ("first", true)]);
}

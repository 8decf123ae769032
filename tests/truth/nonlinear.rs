//! Nonlinear least squares on certified data sets, from both published starts.

use serde::Deserialize;
use tapeline::stats::fit::nonlinear::{Curve, Fit, fit};

use super::{near, read};

#[derive(Deserialize)]
struct Sets {
    set: Vec<Set>,
}

#[derive(Deserialize)]
struct Set {
    name: String,
    difficulty: String,
    starts: Vec<Vec<f64>>,
    parameters: Vec<f64>,
    errors: Vec<f64>,
    squares: f64,
    residual_sd: f64,
    x: Vec<f64>,
    y: Vec<f64>,
}

/// A number that carries its derivatives by all parameters: exact slopes of any model.
#[derive(Clone, Debug)]
struct Dual {
    value: f64,
    slopes: Vec<f64>,
}

impl Dual {
    fn parameter(parameters: &[f64], at: usize) -> Self {
        let slopes = (0..parameters.len()).map(|place| if place == at { 1.0 } else { 0.0 }).collect();
        Self { value: parameters[at], slopes }
    }
    fn map(&self, value: f64, slope: f64) -> Self {
        Self { value, slopes: self.slopes.iter().map(|own| own * slope).collect() }
    }
    fn join(&self, other: &Self, value: f64, by_self: f64, by_other: f64) -> Self {
        let both = self.slopes.iter().zip(&other.slopes);
        Self { value, slopes: both.map(|(a, b)| a * by_self + b * by_other).collect() }
    }
    fn plus(&self, other: &Self) -> Self {
        self.join(other, self.value + other.value, 1.0, 1.0)
    }
    fn times(&self, other: &Self) -> Self {
        self.join(other, self.value * other.value, other.value, self.value)
    }
    fn over(&self, other: &Self) -> Self {
        let value = self.value / other.value;
        self.join(other, value, 1.0 / other.value, -value / other.value)
    }
    fn scaled(&self, factor: f64) -> Self {
        self.map(self.value * factor, factor)
    }
    fn shifted(&self, by: f64) -> Self {
        self.map(self.value + by, 1.0)
    }
    fn exp(&self) -> Self {
        let value = self.value.exp();
        self.map(value, value)
    }
    fn square(&self) -> Self {
        self.times(self)
    }
    fn powf(&self, power: &Self) -> Self {
        let value = self.value.powf(power.value);
        self.join(power, value, power.value * value / self.value, value * self.value.ln())
    }
    /// The power with a fixed base.
    fn power_of(&self, base: f64) -> Self {
        let value = base.powf(self.value);
        self.map(value, value * base.ln())
    }
    fn atan(&self) -> Self {
        self.map(self.value.atan(), 1.0 / (1.0 + self.value * self.value))
    }
}

struct Model<'a>(&'a str);

impl Curve for Model<'_> {
    fn value(&self, parameters: &[f64], x: f64) -> f64 {
        self.dual(parameters, x).value
    }
    fn slopes(&self, parameters: &[f64], x: f64) -> Vec<f64> {
        self.dual(parameters, x).slopes
    }
}

impl Model<'_> {
    fn dual(&self, parameters: &[f64], x: f64) -> Dual {
        let b: Vec<Dual> = (0..parameters.len()).map(|at| Dual::parameter(parameters, at)).collect();
        let one = Dual { value: 1.0, slopes: vec![0.0; b.len()] };
        let polynomial = |range: std::ops::Range<usize>, start: Dual| {
            let powers = range.enumerate().map(|(power, at)| (power + 1, at));
            powers.fold(start, |sum, (power, at)| {
                sum.plus(&b[at].scaled(x.powi(i32::try_from(power).unwrap())))
            })
        };
        let fading = |drop: usize, rate: usize| b[drop].times(&b[rate].scaled(-x).exp());
        let peak = |at: usize| {
            let off = b[at + 1].scaled(-1.0).shifted(x).over(&b[at + 2]);
            b[at].times(&off.square().scaled(-1.0).exp())
        };
        match self.0 {
            "Misra1a" | "BoxBOD" => b[0].times(&b[1].scaled(-x).exp().scaled(-1.0).shifted(1.0)),
            "Misra1b" => {
                let inner = b[1].scaled(x / 2.0).shifted(1.0).square();
                b[0].times(&one.over(&inner).scaled(-1.0).shifted(1.0))
            }
            "Misra1c" => {
                let root = b[1].scaled(2.0 * x).shifted(1.0);
                let half = Dual { value: -0.5, ..one.clone() };
                b[0].times(&root.powf(&half).scaled(-1.0).shifted(1.0))
            }
            "Misra1d" => b[0].times(&b[1]).scaled(x).over(&b[1].scaled(x).shifted(1.0)),
            "Chwirut1" | "Chwirut2" => b[0].scaled(-x).exp().over(&b[1].plus(&b[2].scaled(x))),
            "Lanczos3" => fading(0, 1).plus(&fading(2, 3)).plus(&fading(4, 5)),
            "Gauss1" => fading(0, 1).plus(&peak(2)).plus(&peak(5)),
            "DanWood" => b[0].times(&b[1].power_of(x)),
            "Kirby2" => polynomial(1..3, b[0].clone()).over(&polynomial(3..5, one)),
            "Hahn1" | "Thurber" => polynomial(1..4, b[0].clone()).over(&polynomial(4..7, one)),
            "MGH17" => {
                let fade = |drop: usize, rate: usize| b[drop].times(&b[rate].scaled(-x).exp());
                b[0].plus(&fade(1, 3)).plus(&fade(2, 4))
            }
            "Roszman1" => {
                let angle = b[2].over(&b[3].scaled(-1.0).shifted(x)).atan();
                b[0].plus(&b[1].scaled(-x)).plus(&angle.scaled(-1.0 / std::f64::consts::PI))
            }
            "MGH09" => {
                let above = b[1].scaled(x).shifted(x * x);
                let below = b[2].scaled(x).shifted(x * x).plus(&b[3]);
                b[0].times(&above).over(&below)
            }
            "MGH10" => b[0].times(&b[1].over(&b[2].shifted(x)).exp()),
            "Rat42" => b[0].over(&b[1].plus(&b[2].scaled(-x)).exp().shifted(1.0)),
            "Rat43" => {
                let inner = b[1].plus(&b[2].scaled(-x)).exp().shifted(1.0);
                b[0].over(&inner.powf(&one.over(&b[3])))
            }
            "Eckerle4" => {
                let off = b[2].scaled(-1.0).shifted(x).over(&b[1]);
                b[0].over(&b[1]).times(&off.square().scaled(-0.5).exp())
            }
            "Bennett5" => b[0].times(&b[1].shifted(x).powf(&one.over(&b[2]).scaled(-1.0))),
            other => panic!("no model {other}"),
        }
    }
}

/// Digits asked of parameters and of their errors: at least 9 on lower and average sets.
fn digits(set: &Set) -> (f64, f64) {
    // The certified values have 11 digits, and the last may be off by one.
    if set.difficulty == "higher" { (1e-8, 1e-7) } else { (1e-9, 1e-9) }
}

fn check(set: &Set, found: &Fit) {
    let (of_parameters, of_errors) = digits(set);
    for (value, expected) in found.parameters.iter().zip(&set.parameters) {
        near(&set.name, *value, *expected, (of_parameters, 0.0));
    }
    for (value, expected) in found.errors().unwrap().iter().zip(&set.errors) {
        near(&set.name, *value, *expected, (of_errors, 0.0));
    }
    near(&set.name, found.squares, set.squares, (1e-9, 0.0));
    near(&set.name, found.spread.unwrap().sd, set.residual_sd, (1e-9, 0.0));
}

#[test]
fn nonlinear_fits_agree_with_the_certified_values_from_both_starts() {
    let truth: Sets = read(include_str!("nonlinear.toml"));
    assert_eq!(truth.set.len(), 21);
    let mut not_reached = Vec::new();
    for set in &truth.set {
        for (at, start) in set.starts.iter().enumerate() {
            match fit(&Model(&set.name), &set.x, &set.y, start) {
                Some(found) => check(set, &found),
                None => not_reached.push((set.name.as_str(), at + 1)),
            }
        }
    }
    // The far start of this one lies where its slopes cannot be told apart; it is refused, not answered wrongly.
    assert_eq!(not_reached, [("MGH10", 1)]);
}

//! An exponential fall to a floor, where the data carry one.

use super::super::distributions::t_quantile;
use super::super::summary::all_equal;
use super::linear::regress;
use super::nonlinear::{Curve, Fit, fit};

/// Rates tried for the start, as falls over the whole series: from nearly straight to gone at once.
const RATES: std::ops::RangeInclusive<i32> = -10..=20;

/// value = floor + drop x exp(-rate x time), with the drop above or below 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Decay {
    /// The level that is neared, in the unit of the measure.
    pub floor: f64,
    /// Distance from the floor at time 0, in the same unit.
    pub drop: f64,
    /// Share of the distance lost per unit of time, above 0.
    pub rate: f64,
    fit: Fit,
}

/// A number with its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// The number.
    pub value: f64,
    /// Its standard error, by the delta method where it is derived.
    pub error: f64,
}

/// Why a series has no floor that could be stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoDecay {
    /// Fewer than five times differ, the lengths differ, or a number is not finite.
    TooFew,
    /// All values are equal, or lie on the curve without any scatter to judge it by.
    NoScatter,
    /// A straight line, or a curve away from a floor, serves as well.
    Straight,
    /// The values fall before the second time and are level from there on.
    AtOnce,
    /// The interval of the rate reaches 0: a straight line is not ruled out.
    Unsettled,
}

struct Curved;

impl Curve for Curved {
    fn value(&self, parameters: &[f64], x: f64) -> f64 {
        parameters[0] + parameters[1] * (-parameters[2] * x).exp()
    }
    fn slopes(&self, parameters: &[f64], x: f64) -> Vec<f64> {
        let fading = (-parameters[2] * x).exp();
        vec![1.0, fading, -parameters[1] * x * fading]
    }
}

/// Fits a decay to `values` read at `times`, at the given `confidence` for the rate (0.95 for 95 %).
///
/// For each of a row of rates floor and drop follow by linear least squares; the best of them starts
/// the search of [`fit`] (Ratkowsky 1983, Nonlinear Regression Modeling, 8.5). One value for each
/// time is expected.
///
/// # Errors
/// Why the data carry no floor: see [`NoDecay`].
pub fn to_floor(times: &[f64], values: &[f64], confidence: f64) -> Result<Decay, NoDecay> {
    let mut different = times.to_vec();
    different.sort_by(f64::total_cmp);
    different.dedup();
    let finite = times.iter().chain(values).all(|number| number.is_finite());
    if times.len() != values.len() || !finite || different.len() < 5 {
        return Err(NoDecay::TooFew);
    }
    if all_equal(values) {
        return Err(NoDecay::NoScatter);
    }
    let span = different[different.len() - 1] - different[0];
    let (step, start) = start(times, values, span).ok_or(NoDecay::Straight)?;
    // Where the slowest fall that is tried serves best, a slower one serves better still: a straight line.
    if step == *RATES.start() {
        return Err(NoDecay::Straight);
    }
    // A search that runs away does so from the end of the tried rates at which it began.
    let gap = different[1] - different[0];
    let runaway = if start[2] * gap > 3.0 { NoDecay::AtOnce } else { NoDecay::Straight };
    let fit = fit(&Curved, times, values, &start).ok_or(runaway)?;
    judged(fit, gap, confidence)
}

/// The best of the rates tried, by its place in [`RATES`], with floor, drop and rate.
fn start(times: &[f64], values: &[f64], span: f64) -> Option<(i32, [f64; 3])> {
    let tried = RATES.filter_map(|step| {
        let rate = (f64::from(step) / 2.0).exp2() / span;
        let fading = times.iter().map(|time| (-rate * (time - times[0])).exp()).collect();
        let found = regress(&[vec![1.0; times.len()], fading], values)?;
        let shift = (rate * times[0]).exp();
        let squares: f64 = found.residuals.iter().map(|rest| rest * rest).sum();
        Some((squares, step, [found.coefficients[0], found.coefficients[1] * shift, rate]))
    });
    tried.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, step, start)| (step, start))
}

fn judged(fit: Fit, gap: f64, confidence: f64) -> Result<Decay, NoDecay> {
    let &[floor, drop, rate] = fit.parameters.as_slice() else { return Err(NoDecay::TooFew) };
    if rate <= 0.0 {
        return Err(NoDecay::Straight);
    }
    if rate * gap > 10.0 {
        return Err(NoDecay::AtOnce);
    }
    let spread = fit.spread.filter(|spread| spread.sd > 0.0).ok_or(NoDecay::NoScatter)?;
    let t = t_quantile(f64::midpoint(1.0, confidence), spread.df).ok_or(NoDecay::NoScatter)?;
    let error = fit.covariance(2, 2).map(f64::sqrt).ok_or(NoDecay::NoScatter)?;
    if rate - t * error <= 0.0 {
        return Err(NoDecay::Unsettled);
    }
    Ok(Decay { floor, drop, rate, fit })
}

impl Decay {
    /// The value of the curve at `time`.
    pub fn at(&self, time: f64) -> f64 {
        self.floor + self.drop * (-self.rate * time).exp()
    }

    /// Degrees of freedom behind every standard error here: values - 3.
    pub fn df(&self) -> f64 {
        self.fit.spread.map_or(0.0, |spread| spread.df)
    }

    /// Scatter about the curve, in the unit of the measure.
    pub fn residual_sd(&self) -> f64 {
        self.fit.spread.map_or(0.0, |spread| spread.sd)
    }

    /// Floor, drop and rate, each with its standard error.
    pub fn parameters(&self) -> [Estimate; 3] {
        let error = |at| self.derived(std::array::from_fn(|place| if place == at { 1.0 } else { 0.0 }));
        [(self.floor, 0), (self.drop, 1), (self.rate, 2)]
            .map(|(value, at)| Estimate { value, error: error(at) })
    }

    /// The time in which half of the distance to the floor is lost.
    pub fn half_life(&self) -> Estimate {
        let value = std::f64::consts::LN_2 / self.rate;
        Estimate { value, error: self.derived([0.0, 0.0, -value / self.rate]) }
    }

    /// When the curve reaches `level`, before, within or after the series; `None` where it never does.
    pub fn time_at(&self, level: f64) -> Option<Estimate> {
        let left = level - self.floor;
        let value = (self.drop / left).ln() / self.rate;
        let by_parameter = [1.0 / left / self.rate, 1.0 / self.drop / self.rate, -value / self.rate];
        value.is_finite().then(|| Estimate { value, error: self.derived(by_parameter) })
    }

    /// Standard error of a number with these derivatives by floor, drop and rate.
    fn derived(&self, slopes: [f64; 3]) -> f64 {
        let term = |one: usize, other: usize| {
            slopes[one] * slopes[other] * self.fit.covariance(one, other).unwrap_or(0.0)
        };
        let square: f64 = (0..3).flat_map(|one| (0..3).map(move |other| term(one, other))).sum();
        square.max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TIMES: [f64; 7] = [0.0, 1.0, 2.0, 4.0, 8.0, 12.0, 24.0];
    const NOISE: [f64; 7] = [0.1, -0.2, 0.15, 0.05, -0.1, 0.12, -0.08];

    fn values(floor: f64, drop: f64, rate: f64) -> Vec<f64> {
        let value = |(time, noise): (&f64, &f64)| floor + drop * (-rate * time).exp() + noise;
        TIMES.iter().zip(&NOISE).map(value).collect()
    }

    #[test]
    fn a_fall_and_a_rise_are_found() {
        for drop in [30.0, -30.0] {
            let found = to_floor(&TIMES, &values(60.0, drop, 0.2), 0.95).unwrap();
            assert!((found.floor - 60.0).abs() < 0.4 && (found.rate - 0.2).abs() < 0.02, "{found:?}");
            assert!((found.drop / drop - 1.0).abs() < 0.03);
        }
    }

    #[test]
    fn later_dates_move_the_drop_alone() {
        let values = values(60.0, 30.0, 0.2);
        let before = to_floor(&TIMES, &values, 0.95).unwrap();
        let later: Vec<f64> = TIMES.iter().map(|time| time + 10.0).collect();
        let after = to_floor(&later, &values, 0.95).unwrap();
        assert!((after.floor - before.floor).abs() < 1e-7 && (after.rate / before.rate - 1.0).abs() < 1e-7);
        assert!(
            (after.time_at(70.0).unwrap().value - before.time_at(70.0).unwrap().value - 10.0).abs() < 1e-7
        );
    }

    #[test]
    fn the_curve_has_the_level_at_the_stated_time() {
        let found = to_floor(&TIMES, &values(60.0, 30.0, 0.2), 0.95).unwrap();
        let crossing = found.time_at(75.0).unwrap();
        assert!((found.at(crossing.value) - 75.0).abs() < 1e-10 && crossing.error > 0.0);
        assert_eq!(found.time_at(50.0), None);
        let half = found.half_life().value;
        assert!((found.at(half) - found.floor - found.drop / 2.0).abs() < 1e-10);
    }

    #[test]
    fn series_without_a_floor_say_why() {
        let with = |values: &[f64]| to_floor(&TIMES[..values.len()], values, 0.95).map(|_| ());
        assert_eq!(with(&[5.0, 4.0, 3.0, 2.0]), Err(NoDecay::TooFew));
        assert_eq!(with(&[]), Err(NoDecay::TooFew));
        assert_eq!(with(&[5.0; 7]), Err(NoDecay::NoScatter));
        assert_eq!(with(&[5.0, 4.0, 3.0, f64::NAN, 2.0, 1.0]), Err(NoDecay::TooFew));
        let straight: Vec<f64> = TIMES.iter().zip(NOISE).map(|(time, noise)| 90.0 - time + noise).collect();
        assert!(matches!(with(&straight), Err(NoDecay::Straight | NoDecay::Unsettled)));
        let wild = [80.0, 70.0, 84.0, 72.0, 83.0, 69.0, 82.0];
        assert!(with(&wild).is_err());
        assert_eq!(with(&[90.0, 59.9, 60.0, 60.1, 59.9, 60.0, 60.1]), Err(NoDecay::AtOnce));
    }
}

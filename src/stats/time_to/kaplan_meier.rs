//! Time to an event that is known to the day: the share left, with its intervals.

use super::super::distributions::normal_quantile;

/// One step of the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Its time.
    pub time: f64,
    /// How many were watched up to it, those that left at that time among them.
    pub at_risk: usize,
    /// How many met the event.
    pub events: usize,
    /// Share that has not met it, 0 to 1.
    pub left: f64,
    /// Standard error of that share; `None` where nothing is left.
    pub error: Option<f64>,
    /// Sum behind the standard error, relative to the share.
    relative: f64,
}

/// On which scale an interval is symmetric.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// That of the share, cut to 0 and 1.
    Plain,
    /// Its logarithm, cut to 1.
    Log,
    /// The logarithm of minus its logarithm: never outside 0 and 1.
    LogLog,
}

/// The estimate of Kaplan and Meier (1958), Journal of the American Statistical Association 53,
/// 457-481, with Greenwood's error: one step for each time at which an event was met.
///
/// Each of `watched` is the time up to which one was watched, and whether it met the event then; whoever
/// leaves at the time of an event is counted as watched. `None` without any, or where a time is not finite.
pub fn curve(watched: &[(f64, bool)]) -> Option<Vec<Step>> {
    if watched.is_empty() || !watched.iter().all(|(time, _)| time.is_finite()) {
        return None;
    }
    let mut sorted = watched.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut steps, mut left, mut relative): (Vec<Step>, f64, f64) = (Vec::new(), 1.0, 0.0);
    let mut at_risk = sorted.len();
    for same in sorted.chunk_by(|a, b| a.0.total_cmp(&b.0).is_eq()) {
        let events = same.iter().filter(|(_, met)| *met).count();
        if events > 0 {
            let staying = (at_risk - events) as f64;
            left *= staying / at_risk as f64;
            relative += events as f64 / (at_risk as f64 * staying);
            let error = (left > 0.0).then(|| left * relative.sqrt());
            steps.push(Step { time: same[0].0, at_risk, events, left, error, relative });
        }
        at_risk -= same.len();
    }
    Some(steps)
}

impl Step {
    /// Interval of the share at a confidence such as 0.95; `None` where nothing is left.
    ///
    /// Kalbfleisch and Prentice (2002), The Statistical Analysis of Failure Time Data, 1.4.
    pub fn interval(&self, scale: Scale, confidence: f64) -> Option<(f64, f64)> {
        let error = self.error?;
        let z = normal_quantile(f64::midpoint(1.0, confidence))?;
        let (low, high) = match scale {
            Scale::Plain => (self.left - z * error, self.left + z * error),
            Scale::Log => {
                let factor = (z * self.relative.sqrt()).exp();
                (self.left / factor, self.left * factor)
            }
            Scale::LogLog => {
                let log = self.left.ln();
                let factor = (z * self.relative.sqrt() / log).exp();
                (self.left.powf(1.0 / factor), self.left.powf(factor))
            }
        };
        Some((low.max(0.0), high.min(1.0)))
    }
}

/// The first time at which no more than a share such as 0.5 is left; `None` where more always is.
pub fn time_to_share(steps: &[Step], share: f64) -> Option<f64> {
    steps.iter().find(|step| step.left <= share * (1.0 + 1e-12)).map(|step| step.time)
}

/// Interval of that time: from the first step whose interval begins at or below the share to the first
/// whose interval ends there; `None` at an end that is not reached (Brookmeyer and Crowley 1982,
/// Biometrics 38, 29-41).
pub fn interval_of_time(
    steps: &[Step],
    share: f64,
    scale: Scale,
    confidence: f64,
) -> (Option<f64>, Option<f64>) {
    let first = |end: fn((f64, f64)) -> f64| {
        let reached = |step: &&Step| step.interval(scale, confidence).is_some_and(|both| end(both) <= share);
        steps.iter().find(reached).map(|step| step.time)
    };
    (first(|both| both.0), first(|both| both.1))
}

/// The mean time up to `horizon`: the area below the curve.
pub fn mean_up_to(steps: &[Step], horizon: f64) -> f64 {
    let (mut area, mut from, mut left) = (0.0, 0.0, 1.0);
    for step in steps.iter().take_while(|step| step.time < horizon) {
        area += left * (step.time - from);
        (from, left) = (step.time, step.left);
    }
    area + left * (horizon - from)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_leaving_the_share_is_counted() {
        let steps = curve(&[(2.0, true), (1.0, true), (4.0, true), (3.0, true)]).unwrap();
        let left: Vec<f64> = steps.iter().map(|step| step.left).collect();
        assert_eq!(left, [0.75, 0.5, 0.25, 0.0]);
        assert_eq!((steps[3].error, steps[3].interval(Scale::Log, 0.95)), (None, None));
        assert_eq!((time_to_share(&steps, 0.5), mean_up_to(&steps, 4.0)), (Some(2.0), 2.5));
    }

    #[test]
    fn a_curve_without_events_stays_up() {
        let steps = curve(&[(2.0, false)]).unwrap();
        assert_eq!((steps.len(), time_to_share(&steps, 0.5), mean_up_to(&steps, 3.0)), (0, None, 3.0));
        assert_eq!((curve(&[]), curve(&[(f64::NAN, true)])), (None, None));
    }
}

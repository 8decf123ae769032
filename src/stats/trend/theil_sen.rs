//! The median of all slopes between two times, after Theil and Sen.

use super::super::distributions::normal_quantile;
use super::super::summary::median;
use super::mann_kendall::{Ties, exact_chances, variance};
use super::series;

/// Up to this many values without ties the interval rests on the exact distribution.
const EXACT_UP_TO: usize = 60;

/// The robust partner of the least-squares slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TheilSen {
    /// Median of the slopes of all pairs of different times, in the unit of the measure per unit of time.
    pub slope: f64,
    /// Median of value - slope x time (Conover 1980).
    pub intercept: f64,
    /// Interval of the slope; `None` where the values are too few for the confidence asked.
    pub interval: Option<(f64, f64)>,
}

/// The slope of `values` read at `times`; `confidence` is a fraction, 0.95 for 95 %. `None` where
/// fewer than two times differ, the lengths differ, or a number is not finite.
///
/// Theil (1950); Sen (1968), Journal of the American Statistical Association 63, 1379-1389. The
/// interval holds the confidence exactly or a little more; with ties by the normal distribution.
pub fn slope(times: &[f64], values: &[f64], confidence: f64) -> Option<TheilSen> {
    let series = series(times, values)?;
    let slope_of = |one: &(f64, f64), other: &(f64, f64)| (other.1 - one.1) / (other.0 - one.0);
    let mut slopes: Vec<f64> = series
        .iter()
        .enumerate()
        .flat_map(|(at, one)| series[at + 1..].iter().map(move |other| (one, other)))
        .filter(|(one, other)| one.0 < other.0)
        .map(|(one, other)| slope_of(one, other))
        .collect();
    slopes.sort_by(f64::total_cmp);
    let slope = median(&slopes)?;
    let rests: Vec<f64> = series.iter().map(|(time, value)| value - slope * time).collect();
    let interval = outer_rank(times, values, slopes.len(), confidence)
        .map(|rank| (slopes[rank - 1], slopes[slopes.len() - rank]));
    Some(TheilSen { slope, intercept: median(&rests)?, interval })
}

/// How far in from each end the limits lie, 1 for the outermost slopes; `None` where even these do
/// not reach the confidence.
fn outer_rank(times: &[f64], values: &[f64], slopes: usize, confidence: f64) -> Option<usize> {
    let half = (1.0 - confidence) / 2.0;
    let z = -normal_quantile(half)?;
    let (x, y) = (Ties::of(times), Ties::of(values));
    if x.pairs + y.pairs == 0.0 && times.len() <= EXACT_UP_TO {
        let mut beyond = 0.0;
        let chances = exact_chances(times.len());
        let within = chances.iter().take_while(|&chance| {
            beyond += chance;
            beyond <= half
        });
        let rank = within.count();
        return (rank > 0).then_some(rank);
    }
    let reach = z * variance(times.len() as f64, &x, &y).sqrt();
    (1..=slopes).take_while(|&rank| (2 * rank) as f64 <= slopes as f64 - reach).last()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_wild_value_does_not_move_the_slope() {
        let found = slope(&[0.0, 1.0, 2.0, 3.0, 4.0, 5.0], &[10.0, 9.0, 8.0, 70.0, 6.0, 5.0], 0.95).unwrap();
        assert_eq!((found.slope, found.intercept), (-1.0, 10.0));
    }

    /// With five values the outermost slopes hold 1 - 2 / 120 and the next ones 1 - 10 / 120.
    #[test]
    fn few_values_reach_few_confidences() {
        let with = |n: usize, confidence| {
            let times: Vec<f64> = (0..n).map(|time| time as f64).collect();
            let values: Vec<f64> = times.iter().map(|time| time * time).collect();
            slope(&times, &values, confidence).unwrap().interval
        };
        assert_eq!((with(4, 0.95), with(5, 0.95), with(5, 0.99)), (None, Some((1.0, 7.0)), None));
        assert_eq!(with(5, 0.90), Some((2.0, 6.0)));
        assert_eq!((with(2, 0.95), with(5, 1.0)), (None, None));
    }

    #[test]
    fn shift_scale_and_order_of_rows_move_the_slope_alone() {
        let (times, values) = ([0.0, 1.0, 3.0, 6.0, 7.0], [5.0, 4.0, 4.5, 2.0, 1.0]);
        let before = slope(&times, &values, 0.9).unwrap();
        assert_eq!(slope(&[7.0, 3.0, 0.0, 1.0, 6.0], &[1.0, 4.5, 5.0, 4.0, 2.0], 0.9), Some(before));
        let moved = slope(&times, &values.map(|v| 50.0 - 4.0 * v), 0.9).unwrap();
        assert_eq!(
            (moved.slope, moved.interval.unwrap().0),
            (-4.0 * before.slope, -4.0 * before.interval.unwrap().1)
        );
    }

    #[test]
    fn series_without_a_slope_are_none() {
        assert_eq!((slope(&[], &[], 0.95), slope(&[1.0], &[1.0], 0.95)), (None, None));
        assert_eq!((slope(&[1.0, 1.0], &[1.0, 2.0], 0.95), slope(&[1.0, 2.0], &[1.0], 0.95)), (None, None));
        assert_eq!(slope(&[0.0, 1.0, 2.0], &[4.0; 3], 0.95).unwrap().slope.to_bits(), 0.0_f64.to_bits());
    }
}

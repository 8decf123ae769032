//! The area under a series, and the mean level that it held.

use super::series;

/// A series joined by straight lines between its times.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Area under the series, in the unit of the measure times the unit of time.
    pub area: f64,
    /// Time from the first value to the last, above 0.
    pub duration: f64,
}

impl Area {
    /// The mean level held: area over duration, in the unit of the measure.
    pub fn mean_level(&self) -> f64 {
        self.area / self.duration
    }
}

/// Area under `values` read at `times` by the trapezoid rule, in any order of rows; `None` below
/// two values, where two values share one time, or where a number is not finite.
///
/// Abramowitz and Stegun 1964, 25.4.2. Several readings of one time are to be averaged before.
pub fn trapezoid(times: &[f64], values: &[f64]) -> Option<Area> {
    let series = series(times, values)?;
    if series.windows(2).any(|pair| pair[0].0 >= pair[1].0) {
        return None;
    }
    let panel = |pair: &[(f64, f64)]| (pair[1].0 - pair[0].0) * f64::midpoint(pair[0].1, pair[1].1);
    let area: f64 = series.windows(2).map(panel).sum();
    let duration = series[series.len() - 1].0 - series[0].0;
    (area / duration).is_finite().then_some(Area { area, duration })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_line_holds_its_middle() {
        let found = trapezoid(&[0.0, 4.0, 10.0], &[80.0, 76.0, 70.0]).unwrap();
        assert_eq!(found, Area { area: 750.0, duration: 10.0 });
        assert!((found.mean_level() - 75.0).abs() < 1e-12);
    }

    #[test]
    fn the_order_of_rows_changes_no_bit() {
        let ordered = trapezoid(&[0.0, 1.0, 3.0, 7.0], &[9.1, 8.2, 8.3, 4.4]);
        assert_eq!(trapezoid(&[3.0, 0.0, 7.0, 1.0], &[8.3, 9.1, 4.4, 8.2]), ordered);
    }

    #[test]
    fn one_round_more_on_the_line_changes_nothing() {
        let without = trapezoid(&[0.0, 2.0], &[5.0, 9.0]).unwrap();
        assert_eq!(trapezoid(&[0.0, 1.0, 2.0], &[5.0, 7.0, 9.0]), Some(without));
    }

    #[test]
    fn series_without_duration_have_no_area() {
        for (times, values) in [
            (&[][..], &[][..]),
            (&[1.0], &[2.0]),
            (&[1.0, 1.0], &[2.0, 3.0]),
            (&[0.0, 1.0, 1.0], &[2.0, 3.0, 4.0]),
            (&[0.0, 1.0], &[2.0]),
            (&[0.0, 1.0], &[2.0, f64::NAN]),
        ] {
            assert_eq!(trapezoid(times, values), None);
        }
    }
}

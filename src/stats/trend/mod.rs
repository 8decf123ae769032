//! One number for a series over time: slope, direction, area.

pub mod area;
pub mod line;
pub mod mann_kendall;
pub mod theil_sen;

/// The series as pairs (time, value) in order of time, equal times in order of value; `None` where
/// the lengths differ, a number is not finite, or fewer than two times differ.
fn series(times: &[f64], values: &[f64]) -> Option<Vec<(f64, f64)>> {
    if times.len() != values.len() || !times.iter().chain(values).all(|number| number.is_finite()) {
        return None;
    }
    let mut pairs: Vec<(f64, f64)> = times.iter().copied().zip(values.iter().copied()).collect();
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    (pairs.first()?.0 < pairs.last()?.0).then_some(pairs)
}

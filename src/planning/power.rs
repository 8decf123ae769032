//! Power of a two-sided t test with a given critical value, by the noncentral t distribution.

use crate::stats::distributions::chi_square_tail;
use std::f64::consts::TAU;

/// The shift of a noncentral t that lies beyond `critical` on either side with probability 0.80; `None` where none is found.
pub(super) fn shift(critical: f64, df: f64) -> Option<f64> {
    let (mut low, mut high) = (0.0, 2.0 * critical + 4.0);
    while power(high, critical, df)? < 0.80 {
        high *= 2.0;
        if high > 1e6 {
            return None;
        }
    }
    // Forty halvings leave less than 1e-9 of the first distance.
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if power(middle, critical, df)? < 0.80 { low = middle } else { high = middle }
    }
    Some(f64::midpoint(low, high))
}

/// P(|Z + shift| / S > critical), where Z is standard normal and S squared is chi-square over `df`.
///
/// By Simpson's rule over Z, within which S must stay below |z + shift| / critical.
pub(super) fn power(shift: f64, critical: f64, df: f64) -> Option<f64> {
    const STEPS: u32 = 200;
    const REACH: f64 = 8.0;
    let width = 2.0 * REACH / f64::from(STEPS);
    let mut sum = 0.0;
    for step in 0..=STEPS {
        let z = -REACH + width * f64::from(step);
        let weight = if step == 0 || step == STEPS { 1.0 } else { f64::from(2 + 2 * (step % 2)) };
        let spread = ((z + shift) / critical).abs();
        let below = 1.0 - chi_square_tail(df * spread * spread, df)?;
        sum += weight * (-z * z / 2.0).exp() * below;
    }
    Some(sum * width / 3.0 / TAU.sqrt())
}

//! Number, mean, standard deviation, standard error and median of one set of values.

/// Arithmetic mean of `values`, in their unit; `None` for an empty slice or a value that is not finite.
///
/// Values are sorted before they are summed, so the order of rows changes no bit of the result.
/// The sum runs over differences from the middle value: leading digits that all values share cost
/// no accuracy.
pub fn mean(values: &[f64]) -> Option<f64> {
    let sorted = sorted(values)?;
    sorted_mean(&sorted)
}

/// Standard deviation with the divisor n - 1, in the unit of `values`; `None` below two values.
///
/// Two passes with the correction for the rounding of the mean, formula (1.7) of Chan, Golub and
/// `LeVeque` (1983), The American Statistician 37, 242-247.
pub fn sd(values: &[f64]) -> Option<f64> {
    let squares = sum_of_squares(values)?;
    (values.len() >= 2).then(|| (squares / (values.len() - 1) as f64).sqrt())
}

/// Standard error of the mean, sd / sqrt(n), in the unit of `values`; `None` below two values.
///
/// Type A evaluation of JCGM 100:2008, 4.2.3.
pub fn standard_error(values: &[f64]) -> Option<f64> {
    sd(values).map(|sd| sd / (values.len() as f64).sqrt())
}

/// Median of `values`, in their unit; for an even number the mean of the two in the middle.
pub fn median(values: &[f64]) -> Option<f64> {
    sorted_median(&sorted(values)?)
}

/// Sum of squared differences from the mean, in the squared unit; `None` for an empty slice.
pub(super) fn sum_of_squares(values: &[f64]) -> Option<f64> {
    let sorted = sorted(values)?;
    let mean = sorted_mean(&sorted)?;
    let (mut plain, mut squares) = (0.0, 0.0);
    for value in &sorted {
        let difference = value - mean;
        plain += difference;
        squares += difference * difference;
    }
    let corrected: f64 = squares - plain * plain / sorted.len() as f64;
    corrected.is_finite().then_some(corrected.max(0.0))
}

/// Sum of `values` from the smallest to the largest, so that their order changes no bit.
pub(super) fn sorted_sum(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.iter().sum()
}

fn sorted(values: &[f64]) -> Option<Vec<f64>> {
    if !values.iter().all(|value| value.is_finite()) {
        return None;
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    Some(sorted)
}

fn sorted_median(sorted: &[f64]) -> Option<f64> {
    let upper = *sorted.get(sorted.len() / 2)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *sorted.get(sorted.len() / 2 - 1)?;
    Some(lower / 2.0 + upper / 2.0)
}

fn sorted_mean(sorted: &[f64]) -> Option<f64> {
    let middle = *sorted.get(sorted.len() / 2)?;
    let differences: f64 = sorted.iter().map(|value| value - middle).sum();
    let mean = middle + differences / sorted.len() as f64;
    mean.is_finite().then_some(mean)
}

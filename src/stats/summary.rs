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
/// Two passes with the correction for the rounding of the mean: Chan, Golub and
/// `LeVeque` (1983), The American Statistician 37, 242-247.
pub fn sd(values: &[f64]) -> Option<f64> {
    let squares = sum_of_squares(values)?;
    (values.len() >= 2).then(|| (squares / (values.len() - 1) as f64).sqrt())
}

/// Mean and standard deviation of values that stand from the smallest to the largest already: the bits of [`mean`] and [`sd`].
pub fn of_sorted(sorted: &[f64]) -> (Option<f64>, Option<f64>) {
    debug_assert!(sorted.is_sorted_by(|a, b| a.total_cmp(b).is_le()), "values are sorted");
    // Of sorted values only the ends can be without bound or no number.
    if [sorted.first(), sorted.last()].into_iter().flatten().any(|end| !end.is_finite()) {
        return (None, None);
    }
    let Some(mean) = sorted_mean(sorted) else { return (None, None) };
    let squares = sorted_squares(sorted, mean).filter(|_| sorted.len() >= 2);
    (Some(mean), squares.map(|squares| (squares / (sorted.len() - 1) as f64).sqrt()))
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
    sorted_squares(&sorted, sorted_mean(&sorted)?)
}

fn sorted_squares(sorted: &[f64], mean: f64) -> Option<f64> {
    let (mut plain, mut squares) = (0.0, 0.0);
    for value in sorted {
        let difference = value - mean;
        plain += difference;
        squares += difference * difference;
    }
    let corrected: f64 = squares - plain * plain / sorted.len() as f64;
    corrected.is_finite().then_some(corrected.max(0.0))
}

/// Whether no two of `values` differ.
pub(super) fn all_equal(values: &[f64]) -> bool {
    values.windows(2).all(|pair| pair[0].total_cmp(&pair[1]).is_eq())
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

#[cfg(test)]
mod tests {
    use super::super::random::Generator;
    use super::*;

    #[test]
    fn a_hand_worked_set() {
        let values = [4.0, 7.0, 13.0, 16.0];
        assert_eq!(mean(&values), Some(10.0));
        assert_eq!(sd(&values), Some(30.0_f64.sqrt()));
        assert_eq!(standard_error(&values), Some(30.0_f64.sqrt() / 2.0));
        assert_eq!(median(&values), Some(10.0));
        assert_eq!(median(&values[..3]), Some(7.0));
    }

    #[test]
    fn too_few_values_have_no_spread() {
        assert_eq!((mean(&[]), median(&[]), sd(&[])), (None, None, None));
        assert_eq!((mean(&[3.5]), median(&[3.5]), sd(&[3.5])), (Some(3.5), Some(3.5), None));
        assert_eq!(standard_error(&[3.5]), None);
        assert_eq!(sd(&[2.0, 4.0]), Some(2.0_f64.sqrt()));
    }

    #[test]
    fn equal_values_have_a_spread_of_exactly_zero() {
        assert_eq!(sd(&[0.1; 7]), Some(0.0));
        assert_eq!(mean(&[0.1; 7]), Some(0.1));
    }

    #[test]
    fn values_that_are_not_finite_give_nothing() {
        for bad in [f64::NAN, f64::INFINITY] {
            assert_eq!((mean(&[1.0, bad]), sd(&[1.0, bad]), median(&[bad])), (None, None, None));
        }
        assert_eq!(sd(&[f64::MAX, f64::MIN]), None);
    }

    #[test]
    fn the_order_of_rows_changes_no_bit() {
        let mut random = Generator::new(1);
        let mut values: Vec<f64> = (0..101).map(|_| 80.0 + random.normal()).collect();
        let before = (mean(&values), sd(&values), median(&values));
        for _ in 0..50 {
            random.shuffle(&mut values);
            assert_eq!((mean(&values), sd(&values), median(&values)), before);
        }
    }

    #[test]
    fn sorted_values_give_the_same_bits() {
        let mut random = Generator::new(3);
        let mut lists =
            vec![vec![], vec![3.5], vec![f64::MIN, f64::MAX], vec![1.0, f64::INFINITY], vec![1.0, f64::NAN]];
        lists.extend((2..40).map(|n| (0..n).map(|_| 80.0 + random.normal()).collect()));
        for mut values in lists {
            values.sort_by(f64::total_cmp);
            assert_eq!(of_sorted(&values), (mean(&values), sd(&values)), "{values:?}");
        }
    }

    #[test]
    fn a_shift_moves_the_mean_only_and_a_scale_moves_both() {
        let mut random = Generator::new(2);
        let values: Vec<f64> = (0..12).map(|_| random.normal()).collect();
        let moved: Vec<f64> = values.iter().map(|value| 1000.0 - 3.0 * value).collect();
        assert!((mean(&moved).unwrap() - 1000.0 + 3.0 * mean(&values).unwrap()).abs() < 1e-12);
        assert!((sd(&moved).unwrap() / sd(&values).unwrap() - 3.0).abs() < 1e-11);
    }
}

//! Number, mean, standard deviation, standard error and median of one set of values.

/// Number, ends, mean and spread of one set of values, none of which hangs on their order.
///
/// Rounding makes a sum of floats depend on the order of its terms; a sum of whole numbers does not. So every term is multiplied
/// by one power of two, which brings the largest that the ends allow to 2^60 or more and below 2^61, then cut to a whole number
/// and added to 128 bits. By the cut a difference is off by less than 2^-60 of the largest one and a square by less than 2^-59 of
/// the largest square; floats round each to 2^-53 of itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    /// How many values there are.
    pub n: usize,
    /// The smallest and the largest, in the unit of the values; `None` without values.
    pub ends: Option<(f64, f64)>,
    /// Arithmetic mean, in the unit of the values; `None` without values, where one is not finite, and where the ends lie
    /// farther apart than a number can say.
    pub mean: Option<f64>,
    /// Sum of squared differences from the mean, in the squared unit; `None` where there is no mean, and where it is too large.
    pub(super) squares: Option<f64>,
}

impl Moments {
    /// Those of `values`.
    ///
    /// The mean is found from differences to the smallest value, then once more from differences to what was found, so leading
    /// digits that all values share cost no accuracy. The squares have the correction for the rounding of the mean: Chan, Golub
    /// and `LeVeque` (1983), The American Statistician 37, 242-247.
    pub fn of(values: &[f64]) -> Self {
        let n = values.len();
        let ends = ends(values);
        let finite = ends.filter(|(min, max)| (max - min).is_finite());
        let Some((min, max)) = finite else { return Self { n, ends, mean: None, squares: None } };
        let scale = scale(max - min);
        let whole = values.iter().fold(0, |sum, value| added(sum, (value - min) * scale));
        let near = min + whole as f64 / n as f64 / scale;
        let scale = self::scale((max - near).max(near - min));
        let (mut plain, mut squares) = (0, 0);
        for value in values {
            let difference = (value - near) * scale;
            plain = added(plain, difference);
            squares = added(squares, difference * difference / LARGEST);
        }
        let (plain, squares) = (plain as f64, squares as f64 * LARGEST);
        let squares = (squares - plain * plain / n as f64).max(0.0) / scale / scale;
        let mean = near + plain / n as f64 / scale;
        Self { n, ends, mean: Some(mean), squares: Some(squares).filter(|squares| squares.is_finite()) }
    }

    /// Standard deviation with the divisor n - 1, in the unit of the values; `None` below two values.
    pub fn sd(&self) -> Option<f64> {
        self.squares.filter(|_| self.n >= 2).map(|squares| (squares / (self.n - 1) as f64).sqrt())
    }
}

/// The smallest and the largest value, by their bits as whole numbers in the order of [`f64::total_cmp`]: where a value is not
/// finite, an end is not. A zero has no sign.
fn ends(values: &[f64]) -> Option<(f64, f64)> {
    let ordered = |bits: i64| bits ^ ((bits >> 63).cast_unsigned() >> 1).cast_signed();
    let value = |key: i64| f64::from_bits(ordered(key).cast_unsigned()) + 0.0;
    let (low, high) = values.iter().fold((i64::MAX, i64::MIN), |(low, high), value| {
        let key = ordered(value.to_bits().cast_signed());
        (low.min(key), high.max(key))
    });
    (!values.is_empty()).then(|| (value(low), value(high)))
}

/// What no scaled term reaches: 2^61.
const LARGEST: f64 = (1_u64 << 61) as f64;

/// The power of two by which terms up to `bound` come near [`LARGEST`] and stay below it; 2^1023, the greatest there is, for
/// bounds below 2^-962, whose terms are cut at 2^-1023.
fn scale(bound: f64) -> f64 {
    // The exponent stands in the bits with 1023 added, above 52 of digits, and the bound is below the power that follows it.
    let exponent = bound.to_bits() >> 52;
    f64::from_bits((2 * 1023 + 60 - exponent).min(2 * 1023) << 52)
}

/// The sum with one more scaled term. It holds 2^66 of them.
#[expect(clippy::cast_possible_truncation, reason = "what is behind the point is cut off")]
fn added(sum: i128, term: f64) -> i128 {
    sum.wrapping_add(i128::from(term as i64))
}

/// Arithmetic mean of `values`, in their unit; `None` for an empty slice or a value that is not finite.
pub fn mean(values: &[f64]) -> Option<f64> {
    Moments::of(values).mean
}

/// Standard deviation with the divisor n - 1, in the unit of `values`; `None` below two values.
pub fn sd(values: &[f64]) -> Option<f64> {
    Moments::of(values).sd()
}

/// Standard error of the mean, sd / sqrt(n), in the unit of `values`; `None` below two values.
///
/// Type A evaluation of JCGM 100:2008, 4.2.3.
pub fn standard_error(values: &[f64]) -> Option<f64> {
    sd(values).map(|sd| sd / (values.len() as f64).sqrt())
}

/// Median of `values`, in their unit; for an even number the mean of the two in the middle.
pub fn median(values: &[f64]) -> Option<f64> {
    if !values.iter().all(|value| value.is_finite()) {
        return None;
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let upper = *sorted.get(sorted.len() / 2)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *sorted.get(sorted.len() / 2 - 1)?;
    Some(lower / 2.0 + upper / 2.0)
}

/// Sum of squared differences from the mean, in the squared unit; `None` for an empty slice.
pub(super) fn sum_of_squares(values: &[f64]) -> Option<f64> {
    Moments::of(values).squares
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
    #[expect(clippy::cast_possible_truncation, reason = "the values are whole in their unit, as is asserted")]
    fn sums_that_are_known_exactly_are_met_in_any_order() {
        let mut random = Generator::new(3);
        // Thousandths and parts of 1024 on an offset: the bits of the values are whole numbers in units of 2^-46 or 2^-10.
        for (offset, part, unit) in [(64.0, 1e-3, 46), (1e9, 1.0 / 1024.0, 10), (-1e9, 1.0 / 1024.0, 10)] {
            let mut values: Vec<f64> =
                (0..1000).map(|_| offset + (random.uniform() * 60_000.0).floor() * part).collect();
            let unit = 2.0_f64.powi(unit);
            let whole: Vec<i128> = values.iter().map(|value| (value * unit) as i128).collect();
            assert_eq!(whole.iter().map(|&whole| whole as f64 / unit).collect::<Vec<f64>>(), values);
            let (n, sum) = (whole.len() as i128, whole.iter().sum::<i128>());
            let exact_mean = sum as f64 / n as f64 / unit;
            // Less the whole part of their mean, so that the squares stay below 2^127.
            let less: Vec<i128> = whole.iter().map(|whole| whole - sum / n).collect();
            let squares = less.iter().map(|less| less * less).sum::<i128>();
            let times_n = n * squares - less.iter().sum::<i128>().pow(2);
            let exact_squares = times_n as f64 / n as f64 / unit / unit;
            for _ in 0..5 {
                random.shuffle(&mut values);
                let found = Moments::of(&values);
                assert!((found.mean.unwrap() / exact_mean - 1.0).abs() < 2.5e-16, "{found:?} {exact_mean}");
                assert!(
                    (found.squares.unwrap() / exact_squares - 1.0).abs() < 5e-16,
                    "{found:?} {exact_squares}"
                );
            }
        }
    }

    #[test]
    fn the_least_and_the_greatest_numbers_have_their_mean() {
        for power in [-960, -500, 0, 500] {
            let one = 2.0_f64.powi(power);
            let moments = Moments::of(&[3.0 * one, one, 2.0 * one]);
            assert_eq!((moments.mean, moments.ends), (Some(2.0 * one), Some((one, 3.0 * one))));
            assert_eq!(moments.squares, Some(2.0 * one * one));
        }
        let least = Moments::of(&[0.0, f64::MIN_POSITIVE, f64::from_bits(3)]);
        assert!(least.mean.is_some_and(|mean| (0.0..f64::MIN_POSITIVE).contains(&mean)), "{least:?}");
        assert_eq!(least.squares, Some(0.0));
        let most = Moments::of(&[f64::MAX, 0.0, f64::MAX, 0.0]);
        assert_eq!((most.mean, most.squares), (Some(f64::MAX / 2.0), None));
        assert_eq!(Moments::of(&[f64::MAX; 9]).sd(), Some(0.0));
    }

    #[test]
    fn a_zero_has_no_sign() {
        for zeros in [[0.0, -0.0], [-0.0, 0.0], [-0.0, -0.0]] {
            let moments = Moments::of(&zeros);
            let (low, high) = moments.ends.unwrap();
            assert!([low, high, moments.mean.unwrap()].iter().all(|zero| zero.to_bits() == 0));
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

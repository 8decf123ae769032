//! The interval of a ratio of two means, of which both are uncertain.

/// A mean with the square of its standard error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    /// The mean.
    pub mean: f64,
    /// Square of its standard error, in the square of its unit.
    pub square: f64,
}

/// The ratios `r` that `t` standard errors of `over - r x under` leave open; the two means are independent of each other.
///
/// Fieller (1954), Journal of the Royal Statistical Society B 16, 175-185. `None` where `under` is not told apart from 0, so that no
/// ratio is left out on one side, or a number is not finite.
pub fn ratio(over: Uncertain, under: Uncertain, t: f64) -> Option<(f64, f64)> {
    let squares = t * t;
    // (over - r under)^2 = t^2 (square of over + r^2 square of under), a parabola in r.
    let first = under.mean * under.mean - squares * under.square;
    let second = over.mean * under.mean;
    let third = over.mean * over.mean - squares * over.square;
    let root = (second * second - first * third).sqrt();
    let ends = ((second - root) / first, (second + root) / first);
    (first > 0.0 && ends.0.is_finite() && ends.1.is_finite()).then_some(ends)
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn value(mean: f64, square: f64) -> Uncertain {
        Uncertain { mean, square }
    }

    /// Both ends by a search for the root of the defining equation with `scipy` 1.17.1 (`brentq`).
    #[test]
    fn the_ends_are_those_of_the_inverted_test() {
        let (low, high) =
            ratio(value(0.215, 0.000_424_4), value(0.82, 0.000_318_3), 2.364_624_251_592_785).unwrap();
        assert!((low - 0.201_887_184_554_934_87).abs() < 1e-12, "{low}");
        assert!((high - 0.323_894_737_669_955_75).abs() < 1e-12, "{high}");
    }

    #[test]
    fn without_error_below_it_is_the_plain_interval() {
        let (low, high) = ratio(value(3.0, 0.04), value(2.0, 0.0), 2.0).unwrap();
        assert!((low - 1.3).abs() < 1e-12 && (high - 1.7).abs() < 1e-12);
    }

    #[test]
    fn a_denominator_that_may_be_zero_bounds_nothing() {
        assert_eq!(ratio(value(3.0, 0.04), value(2.0, 1.0), 2.0), None);
        assert_eq!(ratio(value(3.0, f64::NAN), value(2.0, 0.1), 2.0), None);
        assert_eq!(ratio(value(3.0, 0.04), value(0.0, 0.0), 2.0), None);
    }
}

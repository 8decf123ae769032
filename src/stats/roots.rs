//! A root of a function of one variable inside a bracket.

/// Where `f` crosses zero between `low` and `high`, to a relative 1e-11; `None` where both ends
/// have the same sign or a value is NaN.
///
/// Regula falsi with the weights of Anderson and Bjorck (1973), BIT 13, 253-264, and a bisection
/// at every eighth step. No step is shorter than half the tolerance, so that the bracket closes
/// from both sides.
pub(super) fn root(f: impl Fn(f64) -> f64, low: f64, high: f64) -> Option<f64> {
    let (mut old, mut new) = ((low, f(low)), (high, f(high)));
    if old.1 * new.1 > 0.0 || !(old.1 - new.1).is_finite() {
        return None;
    }
    if old.1 == 0.0 {
        return Some(low);
    }
    for step in 1..400 {
        let width = old.0 - new.0;
        let tolerance = 1e-11 * new.0.abs().max(1e-3);
        if new.1 == 0.0 || width.abs() <= tolerance {
            break;
        }
        let share = if step % 8 == 0 { 0.5 } else { new.1 / (new.1 - old.1) };
        let least = tolerance / 2.0;
        let x = new.0 + (share * width.abs()).max(least).copysign(width);
        let value = f(x);
        if value * new.1 < 0.0 {
            old = new;
        } else {
            let weight = 1.0 - value / new.1;
            old.1 *= if weight > 0.0 { weight } else { 0.5 };
        }
        new = (x, value);
    }
    Some(new.0 + (old.0 - new.0) * new.1 / (new.1 - old.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_are_found_to_the_stated_digits() {
        let cube = root(|x| x * x * x - 2.0, 0.0, 5.0).unwrap();
        assert!((cube / 2.0_f64.cbrt() - 1.0).abs() < 1e-11);
        let falling = root(|x| (-x).exp() - 0.01, -1.0, 50.0).unwrap();
        assert!((falling / 100.0_f64.ln() - 1.0).abs() < 1e-11);
    }

    #[test]
    fn a_bracket_without_a_change_of_sign_has_no_root() {
        assert_eq!(root(|x| x * x + 1.0, -1.0, 2.0), None);
        assert_eq!(root(|_| f64::NAN, 0.0, 1.0), None);
    }
}

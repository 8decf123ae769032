//! Coordinates for pictures: two decimals at most, the same bytes on every platform.

use std::fmt;

/// A coordinate or length of a picture, in the unit of its view box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coordinate(pub f64);

/// Short for [`Coordinate`].
pub fn coordinate(value: f64) -> Coordinate {
    Coordinate(value)
}

impl fmt::Display for Coordinate {
    /// Two decimals without trailing zeros. A value that is not finite prints 0, since a picture with
    /// a `NaN` in it is not drawn at all.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let value = if self.0.is_finite() { self.0 } else { 0.0 };
        let text = format!("{value:.2}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        f.write_str(if text == "-0" { "0" } else { text })
    }
}

#[cfg(test)]
mod tests {
    use super::coordinate;

    #[test]
    fn coordinates_are_short_and_never_break_a_picture() {
        let texts = [1.0, 0.125, -0.001, 1200.5, f64::NAN, 0.996].map(|v| coordinate(v).to_string());
        assert_eq!(texts, ["1", "0.12", "0", "1200.5", "0", "1"]);
    }
}

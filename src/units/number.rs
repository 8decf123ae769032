//! Numbers as people type them, and numbers as they are printed.

/// A number as typed, or what stops it from being one.
pub type Number = Result<f64, NumberFault>;

/// Why a piece of text is not taken as a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NumberFault {
    /// `1,5`: a comma may part decimals or thousands, so it is asked about.
    Comma,
    /// Anything else, infinities included.
    NotANumber,
}

/// Reads a number with a point for decimals. Finite values only.
///
/// # Errors
/// [`NumberFault::Comma`] where a comma stands between digits, else [`NumberFault::NotANumber`].
pub fn read(text: &str) -> Number {
    let digits = |byte: u8| byte.is_ascii_digit() || matches!(byte, b'.' | b'+' | b'-' | b'e' | b'E');
    if text.bytes().all(digits) {
        let value: f64 = text.parse().map_err(|_| NumberFault::NotANumber)?;
        return if value.is_finite() { Ok(value) } else { Err(NumberFault::NotANumber) };
    }
    let comma = text.contains(',') && text.bytes().all(|byte| digits(byte) || byte == b',');
    Err(if comma { NumberFault::Comma } else { NumberFault::NotANumber })
}

/// The shortest decimal that reads back as the same number, without exponent: `0.4`, `1200`, `64`.
pub fn decimal(value: f64) -> String {
    // Negative zero would print a sign that means nothing to a reader.
    let value = if value == 0.0 { 0.0 } else { value };
    // Converted units carry noise in the last bits, as in 0.30000000000000004.
    let rounded = (value * 1e9).round() / 1e9;
    if value.abs() < 1e6 { format!("{rounded}") } else { format!("{value}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn commas_are_asked_about_and_words_refused() {
        assert_eq!(read("58.7"), Ok(58.7));
        assert_eq!(read("-3"), Ok(-3.0));
        assert_eq!(read("1,5"), Err(NumberFault::Comma));
        assert_eq!(read("inf"), Err(NumberFault::NotANumber));
        assert_eq!(read("1e999"), Err(NumberFault::NotANumber));
        assert_eq!(read(""), Err(NumberFault::NotANumber));
    }

    #[test]
    fn decimals_print_short() {
        assert_eq!(decimal(0.1 + 0.2), "0.3");
        assert_eq!(decimal(1200.0), "1200");
        assert_eq!(decimal(-0.0), "0");
    }
}

//! Reads what stands in a value column: a number, less than a number, or not taken.

use crate::units::{NumberFault, read_number};

/// What a value field says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Entry {
    /// A number.
    Taken(f64),
    /// `<0.5`: below what the gauge can tell.
    Below(f64),
    /// `-` or `n/a`.
    NotTaken,
    /// Nothing.
    Blank,
}

/// Reads a field without blanks around it. With `comma` a decimal comma is taken, and the second value is true.
///
/// # Errors
/// [`NumberFault::Comma`] where a comma stands between digits and is not taken, else [`NumberFault::NotANumber`].
pub(super) fn entry(text: &str, comma: bool) -> Result<(Entry, bool), NumberFault> {
    // A zero has no sign, so that `-0` is printed as `0`; adding 0 takes it off (IEEE 754, 6.3).
    if let Some(value) = plain(text.as_bytes()) {
        return Ok((Entry::Taken(value + 0.0), false));
    }
    if text.is_empty() {
        return Ok((Entry::Blank, false));
    }
    if is_not_taken(text) {
        return Ok((Entry::NotTaken, false));
    }
    match text.strip_prefix('<') {
        Some(limit) => number(limit.trim_start(), comma).map(|(limit, had)| (Entry::Below(limit), had)),
        None => number(text, comma).map(|(value, had)| (Entry::Taken(value + 0.0), had)),
    }
}

fn is_not_taken(text: &str) -> bool {
    const WORDS: [&str; 8] = ["-", "--", "\u{2013}", "\u{2014}", "n/a", "na", "n.a.", "not taken"];
    WORDS.iter().any(|word| text.eq_ignore_ascii_case(word))
}

fn number(text: &str, comma: bool) -> Result<(f64, bool), NumberFault> {
    match read_number(text) {
        Err(NumberFault::Comma) if comma && text.matches(',').count() == 1 && !text.contains('.') => {
            read_number(&text.replace(',', ".")).map(|value| (value, true))
        }
        other => other.map(|value| (value, false)),
    }
}

/// Digits with at most one point and a sign, 15 digits at most; anything else is left to the full reader.
///
/// Up to 15 digits make a whole number below 2^53 and the power of ten is exact too, so that the one
/// rounding of the division gives the nearest double (Clinger 1990, PLDI, 92-101).
pub(super) fn plain(bytes: &[u8]) -> Option<f64> {
    leading(bytes).filter(|&(_, length)| length == bytes.len()).map(|(value, _)| value)
}

/// The same where a text begins with such a number, with the count of its bytes; what stands behind is not looked at.
pub(super) fn leading(bytes: &[u8]) -> Option<(f64, usize)> {
    const POWERS: [f64; 16] =
        [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
    let negative = bytes.first() == Some(&b'-');
    let digits = bytes.get(usize::from(negative)..).unwrap_or_default();
    let (mut whole, mut length) = (0_u64, 0_usize);
    let mut point = None;
    // 17 digits stay below 2^64, so nothing here runs over.
    for &byte in digits.iter().take(17) {
        match byte.wrapping_sub(b'0') {
            digit @ 0..=9 => whole = whole.wrapping_mul(10).wrapping_add(u64::from(digit)),
            _ if byte == b'.' && point.is_none() => point = Some(length),
            _ => break,
        }
        length = length.wrapping_add(1);
    }
    let count = length - usize::from(point.is_some());
    if count == 0 || count > 15 {
        return None;
    }
    let value = whole as f64 / POWERS[point.map_or(0, |before| count - before)];
    Some((if negative { -value } else { value }, length + usize::from(negative)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_zero_has_no_sign() {
        for text in ["-0", "-0.0", "0"] {
            let Ok((Entry::Taken(value), _)) = entry(text, false) else { panic!("{text}") };
            assert_eq!(value.to_bits(), 0.0_f64.to_bits(), "{text}");
        }
    }

    #[test]
    fn the_quick_reader_gives_the_bits_of_the_standard_one() {
        let mut state = 12_345_u64;
        let mut quick = 0;
        for round in 0..200_000_u64 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let digits = (state >> 11) % 10_u64.pow(1 + u32::try_from(round % 16).unwrap());
            let places = usize::try_from(round / 16 % 15).unwrap();
            let mut text = format!("{digits:0width$}", width = places + 1);
            text.insert(text.len() - places, '.');
            if round % 3 == 0 {
                text.insert(0, '-');
            }
            if let Some(value) = plain(text.as_bytes()) {
                assert_eq!(value.to_bits(), text.parse::<f64>().unwrap().to_bits(), "{text}");
                quick += 1;
            }
        }
        assert!(quick > 150_000, "{quick}");
    }

    #[test]
    fn what_is_not_a_number_is_never_zero() {
        assert_eq!(entry("<0.5", false), Ok((Entry::Below(0.5), false)));
        assert_eq!(entry("< 12", false), Ok((Entry::Below(12.0), false)));
        assert_eq!(entry("N/A", false), Ok((Entry::NotTaken, false)));
        assert_eq!(entry("-", false), Ok((Entry::NotTaken, false)));
        assert_eq!(entry("", false), Ok((Entry::Blank, false)));
        assert_eq!(entry("-0.5", false), Ok((Entry::Taken(-0.5), false)));
        for text in ["58.7x", "sixty", "nan", "inf", ".", "1.2.3", "<", "<n/a", "58.7 GU", "#REF!"] {
            assert_eq!(entry(text, true), Err(NumberFault::NotANumber), "{text}");
        }
    }

    #[test]
    fn a_decimal_comma_is_taken_only_where_it_is_allowed() {
        assert_eq!(entry("58,7", true), Ok((Entry::Taken(58.7), true)));
        assert_eq!(entry("<0,5", true), Ok((Entry::Below(0.5), true)));
        assert_eq!(entry("58,7", false), Err(NumberFault::Comma));
        assert_eq!(entry("1,234,5", true), Err(NumberFault::Comma));
        assert_eq!(entry("1.234,5", true), Err(NumberFault::Comma));
    }
}

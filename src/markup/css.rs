//! Strings inside a style sheet, as the foot of a printed page needs them.

use std::fmt::Write;

/// A quoted CSS string that shows `text`, whatever is in it.
///
/// Everything but letters, digits and blanks of ASCII is written as a code point (CSS Syntax
/// Module Level 3, section 4.3.7), so that neither the string nor the `style` element can be left.
pub fn css_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        if c.is_ascii_alphanumeric() || matches!(c, ' ' | ',' | '.') {
            out.push(c);
        } else {
            let code = if c == '\0' { 0xfffd } else { u32::from(c) };
            // Writing to a string does not fail.
            let _ = write!(out, "\\{code:x} ");
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::css_string;

    #[test]
    fn nothing_leaves_the_string_or_the_element() {
        assert_eq!(css_string("Hull, 2nd"), "\"Hull, 2nd\"");
        let text = css_string("a\"; } </style>\n\\");
        assert!(!text.contains(['<', '\n', '}', ';']));
        assert_eq!(text.matches('"').count(), 2);
        assert_eq!(css_string("µ"), "\"\\b5 \"");
    }
}

//! Characters that cannot be seen or that look like others: named before the grammar stumbles over them.

use std::borrow::Cow;

/// A character that a line should not have: where it stands, what it is, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Odd {
    /// Byte offset in the line.
    pub(super) at: usize,
    /// Its length in bytes.
    pub(super) len: usize,
    /// Its name.
    pub(super) name: &'static str,
    /// What to do.
    pub(super) help: &'static str,
}

const ODD: &[(char, &str, &str)] = &[
    ('\u{200b}', "a zero-width space", "delete it"),
    ('\u{200e}', "an invisible direction mark", "delete it"),
    ('\u{200f}', "an invisible direction mark", "delete it"),
    ('\u{202a}', "an invisible direction mark", "delete it"),
    ('\u{202b}', "an invisible direction mark", "delete it"),
    ('\u{202c}', "an invisible direction mark", "delete it"),
    ('\u{202d}', "an invisible direction mark", "delete it"),
    ('\u{202e}', "an invisible direction mark", "delete it"),
    ('\u{2066}', "an invisible direction mark", "delete it"),
    ('\u{2067}', "an invisible direction mark", "delete it"),
    ('\u{2068}', "an invisible direction mark", "delete it"),
    ('\u{2069}', "an invisible direction mark", "delete it"),
    ('\u{2060}', "an invisible joiner", "delete it"),
    ('\u{ad}', "a soft hyphen, which cannot be seen", "delete it"),
    ('\u{feff}', "a byte order mark in the middle of the text", "delete it"),
    ('\u{2028}', "a line separator", "begin a new line instead"),
    ('\u{2029}', "a paragraph separator", "begin a new line instead"),
    ('\u{0}', "a NUL character", "save the file as plain text in UTF-8"),
    ('\u{c}', "a form feed", "delete it"),
    ('\u{b}', "a vertical tab", "delete it"),
    ('\r', "a carriage return inside the line", "begin a new line instead"),
    ('\u{fffd}', "a character that was lost when the file was saved", "type it again"),
];

/// Blanks of web pages and word processors, which look like any other.
const BLANKS: [char; 3] = ['\u{a0}', '\u{202f}', '\u{2009}'];

/// The text with plain blanks for those that only look like them, outside of quotes and of prose.
///
/// As many blanks stand there as the character has bytes, so that every place stays what it was.
pub(super) fn with_plain_blanks(text: &str) -> Cow<'_, str> {
    if !text.contains(BLANKS) {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for line in text.split_inclusive(['\n', '\r']) {
        let is_prose = line.trim_start().starts_with('>');
        let (mut quoted, mut begun) = (false, false);
        for c in line.chars() {
            begun |= !c.is_whitespace();
            match c {
                '"' => quoted = !quoted,
                '“' | '„' if !quoted => quoted = true,
                '”' | '“' if quoted => quoted = false,
                _ => {}
            }
            if BLANKS.contains(&c) && !quoted && !(is_prose && begun) {
                plain.extend(std::iter::repeat_n(' ', c.len_utf8()));
            } else {
                plain.push(c);
            }
        }
    }
    Cow::Owned(plain)
}

/// The first odd character of a line outside its comment, or an unclosed quote.
pub(super) fn first_odd(line: &str) -> Option<Odd> {
    // Nearly every line is plain printable text, so one pass over its bytes settles it.
    if line.bytes().all(|byte| (b' '..0x7f).contains(&byte) || byte == b'\t') {
        return unclosed(line);
    }
    let code = &line[..comment(line)];
    let known = code.char_indices().find_map(|(at, found)| {
        let &(_, name, help) = ODD.iter().find(|(odd, _, _)| *odd == found)?;
        Some(Odd { at, len: found.len_utf8(), name, help })
    });
    let control = || {
        let (at, found) = code.char_indices().find(|(_, c)| c.is_control() && *c != '\t')?;
        Some(Odd { at, len: found.len_utf8(), name: "a control character", help: "delete it" })
    };
    known.or_else(control).or_else(|| unclosed(line))
}

/// Where the comment of a line begins, or its length. A `#` inside quotes is text.
pub(super) fn comment(line: &str) -> usize {
    let mut quoted = false;
    for (at, byte) in line.bytes().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'#' if !quoted => return at,
            _ => {}
        }
    }
    line.len()
}

/// The first pair of quotes with nothing but blanks between them, as offset and length with its quotes.
pub(super) fn empty_text(line: &str) -> Option<(usize, usize)> {
    let code = &line[..comment(line)];
    let mut quotes = code.match_indices('"');
    while let (Some((open, _)), Some((close, _))) = (quotes.next(), quotes.next()) {
        if code.get(open + 1..close).is_some_and(|text| text.trim().is_empty()) {
            return Some((open, close + 1 - open));
        }
    }
    None
}

fn unclosed(line: &str) -> Option<Odd> {
    let mut open = None;
    for (at, byte) in line.bytes().enumerate() {
        match byte {
            b'"' => open = if open.is_some() { None } else { Some(at) },
            b'#' if open.is_none() => break,
            _ => {}
        }
    }
    open.map(|at| Odd {
        at,
        len: 1,
        name: "a quote that is not closed",
        help: "close it with \" on the same line",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn odd_characters_are_named_and_text_in_comments_is_free() {
        assert_eq!(first_odd("wash\u{200b}with soap").map(|odd| odd.name), Some("a zero-width space"));
        assert_eq!(
            first_odd("wash \"x").map(|odd| (odd.at, odd.name)),
            Some((5, "a quote that is not closed"))
        );
        assert_eq!(first_odd("film 95 µm  # a \u{200b} b \""), None);
        assert_eq!(first_odd("author \"a # b\""), None);
        assert_eq!(first_odd("wash \u{7} x").map(|odd| odd.name), Some("a control character"));
    }

    #[test]
    fn blanks_of_other_kinds_are_plain_outside_of_texts_and_places_stay() {
        let text = "prep\n\u{a0}\u{2009}dry 2\u{202f}h\nstudy \"10\u{a0}mm\"\n\u{a0} > 5\u{a0}GU\n";
        let plain = with_plain_blanks(text);
        assert_eq!(plain, "prep\n     dry 2   h\nstudy \"10\u{a0}mm\"\n   > 5\u{a0}GU\n");
        assert_eq!(plain.len(), text.len());
        assert!(matches!(with_plain_blanks("dry 2 h"), Cow::Borrowed(_)));
    }
}

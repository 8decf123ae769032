//! Cuts a CSV file into rows and fields (RFC 4180, any separator) and keeps the place of each field.
//!
//! The csv crate tells where a row begins, not where a field does, and takes a quote that is never
//! closed as if it were; carets need the one and a plain message the other. A test compares both.

use crate::text::Span;
use std::borrow::Cow;

/// How a field is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    /// Without quotes.
    Plain,
    /// Between quotes, with no quote inside.
    Quoted,
    /// Begins with a quote and has more of them.
    Mixed,
}

/// One field of a row. Offsets are bytes of the file; quotes around the text lie outside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    start: usize,
    end: usize,
    form: Form,
}

impl Field {
    /// The text without blanks around it, and with doubled quotes made single.
    pub fn text<'a>(&self, file: &'a str) -> Cow<'a, str> {
        let raw = file.get(self.start..self.end).unwrap_or("");
        match self.form {
            Form::Plain | Form::Quoted => Cow::Borrowed(trim(raw)),
            Form::Mixed => Cow::Owned(unquote(raw).trim().to_owned()),
        }
    }

    /// The place of the text, without blanks around it.
    pub fn span(&self, file: &str) -> Span {
        let raw = file.get(self.start..self.end).unwrap_or("");
        let trimmed = trim(raw);
        // Only a text that lost blanks at its end or beginning needs a second look.
        let before = if trimmed.len() == raw.len() { 0 } else { raw.len() - raw.trim_start().len() };
        let start = self.start + before;
        Span::new(start, start + trimmed.len())
    }

    /// True if nothing but blanks is in it.
    pub fn is_blank(&self, file: &str) -> bool {
        file.get(self.start..self.end).is_none_or(|raw| trim(raw).is_empty())
    }

    /// True if it is written without quotes.
    pub fn is_plain(&self) -> bool {
        self.form == Form::Plain
    }

    /// The same field, its offsets counted from a later byte of the file, as from the first of its row.
    #[must_use]
    pub fn counted_from(self, start: usize) -> Self {
        Self { start: self.start - start, end: self.end - start, ..self }
    }

    /// First byte and one past the last, quotes not included.
    pub fn bounds(&self) -> (usize, usize) {
        (self.start, self.end)
    }
}

/// `str::trim`, with the common field that has no blanks told by its two outer bytes.
fn trim(raw: &str) -> &str {
    let tight = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_graphic);
    if tight(raw.as_bytes().first()) && tight(raw.as_bytes().last()) { raw } else { raw.trim() }
}

/// The text of a field that begins with a quote: to the closing quote doubled ones count once, after it all is literal.
fn unquote(raw: &str) -> String {
    let mut text = String::with_capacity(raw.len());
    let mut rest = raw.strip_prefix('"').unwrap_or(raw);
    while let Some(at) = rest.find('"') {
        let (before, after) = rest.split_at(at);
        text.push_str(before);
        let Some(more) = after.strip_prefix("\"\"") else {
            rest = after.get(1..).unwrap_or("");
            break;
        };
        text.push('"');
        rest = more;
    }
    text.push_str(rest);
    text
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Row {
    /// Its first byte.
    pub start: usize,
    /// One past its line end.
    pub end: usize,
    /// The place of a quote that is never closed.
    pub open_quote: Option<usize>,
}

/// Walks through a file row by row.
#[derive(Debug)]
pub struct Splitter<'a> {
    bytes: &'a [u8],
    separator: u8,
    /// Where the next row begins.
    pub at: usize,
    // Once a quote was left open, quoted fields end with their line: else every later row would be
    // searched to the end of the file again, and one slip would swallow all rows below it.
    quotes_end_with_line: bool,
}

impl<'a> Splitter<'a> {
    /// Begins at the first byte of a text.
    pub fn new(text: &'a str, separator: u8) -> Self {
        Self::over(text.as_bytes(), separator)
    }

    /// The same over bytes that may not be text: what parts rows and fields is ASCII, so rows of text stay text.
    pub fn over(bytes: &'a [u8], separator: u8) -> Self {
        Self { bytes, separator, at: 0, quotes_end_with_line: false }
    }

    /// Where the next row begins, if that does not depend on what came before.
    pub fn row_end(&self) -> Option<usize> {
        Some(self.at).filter(|_| !self.quotes_end_with_line)
    }

    /// Puts the fields of the next row that is not an empty line into `fields`; `None` at the end.
    pub fn next_row(&mut self, fields: &mut Vec<Field>) -> Option<Row> {
        while matches!(self.bytes.get(self.at), Some(b'\n' | b'\r')) {
            self.at += 1;
        }
        fields.clear();
        let start = self.at;
        self.bytes.get(start)?;
        let mut open_quote = None;
        loop {
            let (field, open) = self.field();
            fields.push(field);
            open_quote = open_quote.or(open);
            match self.bytes.get(self.at) {
                Some(&byte) if byte == self.separator => self.at += 1,
                Some(_) => {
                    self.at += if self.bytes[self.at..].starts_with(b"\r\n") { 2 } else { 1 };
                    break;
                }
                None => break,
            }
        }
        Some(Row { start, end: self.at, open_quote })
    }

    /// Where the field that begins at a byte ends, if it has no quote before it and a separator behind it.
    pub fn plain_field(&self, from: usize) -> Option<usize> {
        let end = if self.bytes.get(from) == Some(&b'"') { return None } else { self.plain_end(from) };
        (self.bytes.get(end) == Some(&self.separator)).then_some(end)
    }

    /// One field; leaves `at` on the separator, on the line end or at the end of the file.
    fn field(&mut self) -> (Field, Option<usize>) {
        let start = self.at;
        if self.bytes.get(start) != Some(&b'"') {
            self.at = self.plain_end(start);
            return (Field { start, end: self.at, form: Form::Plain }, None);
        }
        let mut from = start + 1;
        let mut form = Form::Quoted;
        loop {
            let Some(quote) = self.quote(from) else {
                self.quotes_end_with_line = true;
                self.at = self.line_end(start);
                return (Field { start: start + 1, end: self.at, form: Form::Plain }, Some(start));
            };
            if self.bytes.get(quote + 1) == Some(&b'"') {
                form = Form::Mixed;
                from = quote + 2;
                continue;
            }
            self.at = self.plain_end(quote + 1);
            if form == Form::Quoted && self.at == quote + 1 {
                return (Field { start: start + 1, end: quote, form }, None);
            }
            return (Field { start, end: self.at, form: Form::Mixed }, None);
        }
    }

    /// The next separator or line end, eight bytes at a time.
    fn plain_end(&self, from: usize) -> usize {
        let mut at = from;
        while let Some(chunk) = self.bytes.get(at..).and_then(<[u8]>::first_chunk::<8>) {
            let word = u64::from_le_bytes(*chunk);
            let hits = equal(word, self.separator) | equal(word, b'\n') | equal(word, b'\r');
            if hits != 0 {
                return at + hits.trailing_zeros() as usize / 8;
            }
            at += 8;
        }
        let ends = |&byte: &u8| byte == self.separator || byte == b'\n' || byte == b'\r';
        let rest = self.bytes.get(at..).unwrap_or(&[]);
        rest.iter().position(ends).map_or(self.bytes.len(), |length| at + length)
    }

    fn line_end(&self, from: usize) -> usize {
        let rest = self.bytes.get(from..).unwrap_or(&[]);
        let ends = |&byte: &u8| byte == b'\n' || byte == b'\r';
        rest.iter().position(ends).map_or(self.bytes.len(), |length| from + length)
    }

    /// The next quote, if it stands where a quoted field may still end.
    fn quote(&self, from: usize) -> Option<usize> {
        let mut at = from;
        while let Some(chunk) = self.bytes.get(at..).and_then(<[u8]>::first_chunk::<8>) {
            let word = u64::from_le_bytes(*chunk);
            let ends = equal(word, b'\n') | equal(word, b'\r');
            let hits = equal(word, b'"') | if self.quotes_end_with_line { ends } else { 0 };
            if hits != 0 {
                break;
            }
            at += 8;
        }
        let stops =
            |&byte: &u8| byte == b'"' || (self.quotes_end_with_line && (byte == b'\n' || byte == b'\r'));
        let at = at + self.bytes.get(at..)?.iter().position(stops)?;
        (self.bytes[at] == b'"').then_some(at)
    }
}

/// The top bit of every byte of `word` that equals `byte`. Bits above the lowest may be wrong, the lowest never is.
fn equal(word: u64, byte: u8) -> u64 {
    const ONES: u64 = 0x0101_0101_0101_0101;
    let zeros = word ^ (ONES * u64::from(byte));
    zeros.wrapping_sub(ONES) & !zeros & (ONES << 7)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of text, blanks kept, as both readers see them; `None` where a quote is left open.
    fn ours(text: &str) -> Option<Vec<Vec<String>>> {
        let mut splitter = Splitter::new(text, b',');
        let (mut rows, mut fields) = (Vec::new(), Vec::new());
        while let Some(row) = splitter.next_row(&mut fields) {
            if row.open_quote.is_some() {
                return None;
            }
            rows.push(fields.iter().map(|field| field.text(text).into_owned()).collect());
        }
        Some(rows)
    }

    fn theirs(text: &str) -> Vec<Vec<String>> {
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
        let rows = reader.records().map(Result::unwrap);
        rows.map(|row| row.iter().map(|field| field.trim().to_owned()).collect()).collect()
    }

    #[test]
    fn every_short_text_splits_as_the_csv_crate_splits_it() {
        let letters = ['a', ',', '"', '\n', '\r', ' '];
        let mut compared = 0;
        for length in 0..=7_u32 {
            for number in 0..6_usize.pow(length) {
                let digit = |place| letters[number / 6_usize.pow(place) % 6];
                let text: String = (0..length).map(digit).collect();
                if let Some(rows) = ours(&text) {
                    assert_eq!(rows, theirs(&text), "{text:?}");
                    compared += 1;
                }
            }
        }
        assert!(compared > 200_000, "{compared}");
    }

    #[test]
    fn long_texts_split_as_the_csv_crate_splits_them() {
        let pieces =
            ["a", "bcd", "efghijklmno", ",", ",", "\"", "\n", "\r\n", " ", "\u{e9}", "\u{1}", "-\u{8c}"];
        let mut state = 7_u64;
        let mut compared = 0;
        for _ in 0..60_000 {
            let mut text = String::new();
            for _ in 0..40 {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                text.push_str(pieces[usize::try_from(state >> 33).unwrap() % pieces.len()]);
            }
            if let Some(rows) = ours(&text) {
                assert_eq!(rows, theirs(&text), "{text:?}");
                compared += 1;
            }
        }
        assert!(compared > 20_000, "{compared}");
    }

    #[test]
    fn a_quote_left_open_costs_its_line_only() {
        let text = "a,\"b,c\nd,e\n\"f\",\"g\nh,i\n";
        let mut splitter = Splitter::new(text, b',');
        let mut fields = Vec::new();
        // The first quote is closed by the one before f, as RFC 4180 has it; the last is open.
        splitter.next_row(&mut fields).unwrap();
        let mut splitter = Splitter::new("a,\"b,c\nd,e\n", b',');
        assert_eq!(splitter.next_row(&mut fields).unwrap().open_quote, Some(2));
        assert_eq!(fields.len(), 2);
        assert_eq!(splitter.next_row(&mut fields).unwrap().open_quote, None);
        assert_eq!(fields.len(), 2);
        assert_eq!(splitter.next_row(&mut fields), None);
    }

    #[test]
    fn spans_lie_inside_quotes_and_blanks() {
        let text = " ab ,\"c d\"\n";
        let mut fields = Vec::new();
        Splitter::new(text, b',').next_row(&mut fields).unwrap();
        assert_eq!(&text[fields[0].span(text).range()], "ab");
        assert_eq!(&text[fields[1].span(text).range()], "c d");
    }
}

//! Recognises the separator and the headings of a CSV file by its first line.

use super::split::{Field, Row, Splitter};

/// The first line that is not empty: separator, row, fields, and the offset at which rows begin.
#[derive(Debug)]
pub struct Header {
    /// What parts the fields.
    pub separator: u8,
    /// The line itself; rows begin at its end.
    pub row: Row,
    /// The headings.
    pub fields: Vec<Field>,
}

/// Reads the header; `None` where the file holds nothing but blanks.
///
/// The separator is the one of comma, semicolon and tab that stands most often in the line outside
/// quotes. A line `sep=;` above it, which spreadsheets write, is stepped over.
pub fn header(text: &str) -> Option<Header> {
    let mut from = 0;
    let (mut separator, mut line) = (b',', "");
    for piece in text.split_inclusive(['\n', '\r']) {
        line = piece;
        let bare = piece.trim();
        if !bare.is_empty() && !bare.trim_start_matches('"').to_ascii_lowercase().starts_with("sep=") {
            separator = likeliest(piece);
            break;
        }
        from += piece.len();
    }
    if line.trim().is_empty() {
        return None;
    }
    let mut splitter = Splitter::new(text, separator);
    splitter.at = from;
    let mut fields = Vec::new();
    let row = splitter.next_row(&mut fields)?;
    Some(Header { separator, row, fields })
}

fn likeliest(line: &str) -> u8 {
    let mut counts = [(b',', 0_usize), (b';', 0), (b'\t', 0)];
    let mut quoted = false;
    for byte in line.bytes() {
        quoted ^= byte == b'"';
        for (separator, count) in &mut counts {
            *count += usize::from(!quoted && byte == *separator);
        }
    }
    // The first of equal counts stays, so a line with none of them is read with commas.
    counts.iter().fold(counts[0], |best, &one| if one.1 > best.1 { one } else { best }).0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_separator_is_counted_outside_quotes() {
        assert_eq!(header("date;\"a,b,c,d\";round\n").map(|header| header.separator), Some(b';'));
        assert_eq!(header("date\tround\tsection\n").map(|header| header.separator), Some(b'\t'));
        assert_eq!(header("value\n").map(|header| header.separator), Some(b','));
        let stepped = header("sep=;\r\ndate;round\r\n").unwrap();
        assert_eq!((stepped.separator, stepped.row.start), (b';', 7));
        assert!(header(" \n\r\n").is_none() && header("").is_none());
    }
}

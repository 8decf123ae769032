//! Cuts a text into lines and says what each is: blank, prose, or a statement with its indent.

/// What a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum LineKind {
    /// Nothing, or a comment only.
    Blank,
    /// Markdown that belongs to the statement above.
    Prose,
    /// A statement.
    Statement,
}

/// One line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Line<'s> {
    /// What it is.
    pub(super) kind: LineKind,
    /// Offset of the first character that is no blank.
    pub(super) start: usize,
    /// True where blanks stand before it.
    pub(super) indented: bool,
    /// The text from `start` to the end without trailing blanks; comments stay.
    pub(super) text: &'s str,
}

/// All lines of a text, whatever their line ends.
pub(super) fn cut(text: &str) -> impl Iterator<Item = Line<'_>> {
    // Old line ends are a lone carriage return; a file has one kind, so the first one decides.
    let end = if !text.contains('\n') && text.contains('\r') { '\r' } else { '\n' };
    let mut offset = 0;
    text.split_inclusive(end).map(move |raw| {
        let body = raw.trim_end_matches(['\n', '\r', ' ', '\t']);
        let trimmed = body.trim_start_matches([' ', '\t']);
        let indent = body.len() - trimmed.len();
        let start = offset + indent;
        offset += raw.len();
        let kind = match trimmed.as_bytes().first() {
            None | Some(b'#') => LineKind::Blank,
            Some(b'>') => LineKind::Prose,
            Some(_) => LineKind::Statement,
        };
        Line { kind, start, indented: indent > 0, text: trimmed }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_line_end_cuts_the_same_lines() {
        for end in ["\n", "\r\n", "\r"] {
            let text = ["study \"a\"", "  begins 2026-01-01 ", "# c", "", " > prose"].join(end);
            let lines: Vec<_> = cut(&text).collect();
            assert_eq!(lines.len(), 5, "{end:?}");
            assert_eq!(lines[1].text, "begins 2026-01-01");
            assert!(lines[1].indented && !lines[0].indented);
            assert_eq!(lines[2].kind, LineKind::Blank);
            assert_eq!(lines[4].kind, LineKind::Prose);
            assert!(text[lines[4].start..].starts_with("> prose"));
        }
    }
}

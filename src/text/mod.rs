//! Source text: files, byte spans, lines and columns, and values that remember where they were written.

mod digest;
mod stored;

pub use digest::{Hashed, sha256, source_hash};
pub use stored::{Piece, Stored};

use std::sync::OnceLock;

/// A stretch of bytes in one file, `start` included and `end` excluded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl Span {
    /// A span from byte offsets; files above 4 GiB are refused before a span is made.
    pub fn new(start: usize, end: usize) -> Self {
        let clip = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { start: clip(start), end: clip(end) }
    }

    /// The smallest span that covers both.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Byte range for slicing.
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }
}

/// A value and the place where the user wrote it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Located<T> {
    /// The value.
    pub value: T,
    /// Where it stands in the study file.
    pub span: Span,
}

impl<T> Located<T> {
    /// Joins a value to its place.
    pub fn new(value: T, span: Span) -> Self {
        Self { value, span }
    }

    /// The same place with another value.
    pub fn map<U>(self, f: impl FnOnce(T) -> U) -> Located<U> {
        Located { value: f(self.value), span: self.span }
    }
}

/// Which input file a place belongs to: 0 is the study, the others are readings files in the order of the study.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct FileId(pub u32);

impl FileId {
    /// The study file.
    pub const STUDY: Self = Self(0);
}

/// The byte order mark that some programs put before UTF-8 text.
pub const MARK: char = '\u{feff}';

/// The same in UTF-8.
const MARK_BYTES: &[u8] = &[0xef, 0xbb, 0xbf];

/// One input file, as the user named it.
#[derive(Debug, Default)]
pub struct SourceFile {
    /// The name as the user typed it.
    pub name: String,
    /// The text after a byte order mark was taken off.
    pub text: String,
    /// True where the file began with a byte order mark.
    pub marked: bool,
    line_starts: OnceLock<Vec<u32>>,
}

impl SourceFile {
    /// Wraps a text under the name that the user knows; a leading byte order mark is dropped.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let mut text: String = text.into();
        let marked = text.starts_with(MARK);
        if marked {
            text.drain(..MARK.len_utf8());
        }
        Self { name: name.into(), text, marked, line_starts: OnceLock::new() }
    }

    /// Its name without folders, which is what a page prints: where a study lies is nobody's business.
    pub fn base_name(&self) -> &str {
        base_name(&self.name)
    }

    /// The bytes of the file as it was read, in two parts: the byte order mark if it had one, and the text.
    pub fn bytes(&self) -> [&[u8]; 2] {
        [if self.marked { MARK_BYTES } else { &[] }, self.text.as_bytes()]
    }

    /// The text under a span; empty if the span lies outside.
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// Line and column of a byte, both from 1; columns count characters.
    pub fn line_column(&self, offset: u32) -> (u32, u32) {
        let starts = self.line_starts();
        let line = starts.partition_point(|&start| start <= offset).saturating_sub(1);
        let start = starts.get(line).copied().unwrap_or(0) as usize;
        let upto = self.text.get(start..offset as usize).unwrap_or("");
        let column = u32::try_from(upto.chars().count()).unwrap_or(u32::MAX).saturating_add(1);
        (u32::try_from(line + 1).unwrap_or(u32::MAX), column)
    }

    /// The line that holds a byte, without its line end, and the offset at which it begins.
    pub fn line_at(&self, offset: u32) -> (&str, u32) {
        let starts = self.line_starts();
        let line = starts.partition_point(|&start| start <= offset).saturating_sub(1);
        let start = starts.get(line).copied().unwrap_or(0);
        let end = starts.get(line + 1).map_or(self.text.len(), |&next| next as usize);
        let text = self.text.get(start as usize..end).unwrap_or("");
        (text.trim_end_matches(['\n', '\r']), start)
    }

    // Built on first use: most files never have a finding, and a readings file may be large.
    fn line_starts(&self) -> &[u32] {
        self.line_starts.get_or_init(|| {
            // Old line ends are a lone carriage return; a file has one kind, so a line feed anywhere decides.
            let old = self.text.contains('\r') && !self.text.contains('\n');
            let end = if old { b'\r' } else { b'\n' };
            let ends = self.text.bytes().enumerate().filter(move |&(_, byte)| byte == end);
            let next = |(at, _): (usize, u8)| u32::try_from(at + 1).unwrap_or(u32::MAX);
            std::iter::once(0).chain(ends.map(next)).collect()
        })
    }
}

/// A file of a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedFile {
    /// Its name in the folder.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// All inputs of one run.
#[derive(Debug, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
}

impl Sources {
    /// Starts with the study file.
    pub fn new(study: SourceFile) -> Self {
        Self { files: vec![study] }
    }

    /// Adds a readings file and returns its id.
    pub fn add(&mut self, file: SourceFile) -> FileId {
        self.files.push(file);
        FileId(u32::try_from(self.files.len() - 1).unwrap_or(u32::MAX))
    }

    /// The file of an id.
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(id.0 as usize)
    }

    /// All files in order of their ids.
    pub fn iter(&self) -> impl Iterator<Item = &SourceFile> {
        self.files.iter()
    }
}

/// The name of a file without the folders before it.
pub fn base_name(name: &str) -> &str {
    name.rsplit(['/', '\\']).next().unwrap_or(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_and_lines_count_line_feeds() {
        let file = SourceFile::new("a.study", "\u{feff}één µm\r\ntwo\n");
        assert_eq!(file.line_column(0), (1, 1));
        let micro = u32::try_from(file.text.find('µ').unwrap()).unwrap();
        assert_eq!(file.line_column(micro), (1, 5));
        let two = u32::try_from(file.text.find("two").unwrap()).unwrap();
        assert_eq!(file.line_column(two), (2, 1));
        assert_eq!(file.line_at(two), ("two", two));
        let old = SourceFile::new("a.study", "one\rtwo\r");
        assert_eq!((old.line_column(4), old.line_at(5)), ((2, 1), ("two", 4)));
        assert_eq!(file.line_at(1).0, "één µm");
    }

    #[test]
    fn places_past_the_end_are_harmless() {
        let file = SourceFile::new("empty", "");
        assert_eq!(file.line_column(0), (1, 1));
        assert_eq!(file.slice(Span::new(3, 9)), "");
    }
}

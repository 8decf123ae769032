//! Tells a text file in UTF-8 from what spreadsheets save otherwise.

use crate::diag::{Finding, Place};
use crate::text::{FileId, Span};

/// The text after a byte order mark.
///
/// # Errors
/// The finding that says what the file is, if it is no text in UTF-8, and how to save it.
pub fn text(file: FileId, bytes: &[u8]) -> Result<&str, Box<Finding>> {
    let place = |start: usize, end: usize| Place { file, span: Span::new(start, end) };
    if let Some(what) = workbook(bytes) {
        let finding = Finding::error("workbook", place(0, bytes.len().min(4)), format!("this is {what}"))
            .label("not a text file")
            .help("open it in the spreadsheet and save the sheet of readings as CSV UTF-8");
        return Err(Box::new(finding.binding()));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if is_utf_16(bytes) {
        let finding = Finding::error("not-utf8", place(0, bytes.len().min(2)), "this file is UTF-16")
            .label("two bytes a character")
            .help("save it again as CSV UTF-8");
        return Err(Box::new(finding.binding()));
    }
    std::str::from_utf8(bytes).map_err(|fault| {
        let at = fault.valid_up_to();
        let byte = bytes.get(at).copied().unwrap_or_default();
        let message = format!("this file is not UTF-8: it has the byte {byte:#04x} here");
        // Latin-1 and the code points from U+00A0 on are the same numbers (ISO/IEC 8859-1).
        let letter = if byte >= 0xa0 { Some(char::from(byte)) } else { None };
        let label = letter.map_or_else(
            || String::from("an old 8-bit encoding"),
            |letter| format!("an old 8-bit encoding, perhaps `{letter}`"),
        );
        let finding = Finding::error("not-utf8", place(at, at + 1), message).label(label);
        Box::new(finding.help("save it again as CSV UTF-8").binding())
    })
}

/// Names a spreadsheet's own file by its first bytes.
fn workbook(bytes: &[u8]) -> Option<&'static str> {
    const ZIP: &[u8] = b"PK\x03\x04";
    const COMPOUND: &[u8] = b"\xd0\xcf\x11\xe0";
    if bytes.starts_with(ZIP) {
        Some("a workbook of a spreadsheet (a zip archive), not a CSV file")
    } else if bytes.starts_with(COMPOUND) {
        Some("an old binary workbook of a spreadsheet, not a CSV file")
    } else {
        None
    }
}

/// A byte order mark of UTF-16, or ASCII text in which every second byte is zero.
fn is_utf_16(bytes: &[u8]) -> bool {
    let head = &bytes[..bytes.len().min(64)];
    let zeros = |first: usize| {
        let mut of = head.iter().skip(first).step_by(2).peekable();
        of.peek().is_some() && of.all(|&byte| byte == 0)
    };
    bytes.starts_with(b"\xff\xfe")
        || bytes.starts_with(b"\xfe\xff")
        || (head.len() >= 4 && (zeros(0) || zeros(1)))
}

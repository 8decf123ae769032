//! The frame: a small sound study into which the examples of the pages are set.

/// An example completed to a whole study.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Example {
    /// The study text.
    pub study: String,
    /// The files that the example has, as `readings.csv`, with their bytes.
    pub files: Vec<(String, Vec<u8>)>,
    /// The day on which the example is looked at, as `2026-05-01`.
    pub date: String,
}

/// Twelve sections: three products on three sections each and three bare ones, with nothing to complain about.
const FRAME: &str = include_str!("frame.study");

/// Completes a piece of a study with the blocks of the frame that it does not write itself.
///
/// A block is known by its head: `surface`, `prep` and the like stand once; a gauge, measure, supply
/// or product of the example takes the place of the one with the same name in the frame. A file that
/// begins with `study` and has a `map` and `rounds` of its own is taken as it is.
pub fn example(piece: &str) -> Example {
    let mut study = String::new();
    let mut files: Vec<(String, Vec<u8>)> = Vec::new();
    let mut date = String::from("2026-03-01");
    for line in piece.lines() {
        if let Some(name) = line.strip_prefix("--- ") {
            match name.trim().strip_prefix("date ") {
                Some(day) => day.trim().clone_into(&mut date),
                None => files.push((name.trim().to_owned(), Vec::new())),
            }
            continue;
        }
        match files.last_mut() {
            Some((_, bytes)) => bytes.extend_from_slice(format!("{line}\n").as_bytes()),
            None => study.extend([line, "\n"]),
        }
    }
    let own: Vec<&str> = study.lines().filter_map(head).collect();
    let mut whole = String::new();
    if !own.contains(&"whole") {
        for block in blocks(FRAME) {
            if block.lines().next().and_then(head).is_some_and(|head| !own.contains(&head)) {
                whole.push_str(block);
            }
        }
    }
    whole.push_str(study.strip_prefix("whole\n").unwrap_or(&study));
    Example { study: whole, files, date }
}

/// What tells blocks apart: the first word, and the name where several blocks of a kind may stand.
fn head(line: &str) -> Option<&str> {
    if line.starts_with([' ', '\t', '#', '|']) || line.trim().is_empty() {
        return None;
    }
    let mut words = line.split_whitespace();
    let first = words.next()?;
    let named = ["gauge", "measure", "supply", "product"].contains(&first);
    match words.next() {
        Some(name) if named => Some(name.trim_end_matches(',')),
        _ => Some(first),
    }
}

/// Cuts a text at the lines that begin in column 1.
fn blocks(text: &str) -> Vec<&str> {
    let mut starts: Vec<usize> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if head(line).is_some() {
            starts.push(at);
        }
        at += line.len();
    }
    let ends = starts.iter().skip(1).copied().chain([text.len()]);
    starts.iter().zip(ends).filter_map(|(&start, end)| text.get(start..end)).collect()
}

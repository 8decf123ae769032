//! Reads the rows of one file in parts at the same time, with what one pass over it gives.
//!
//! Where a row ends depends on the quotes before it, so a part that begins at some line end may begin within a field. Each part
//! is read up to where the next one was begun; where it does not end there, the file is read again in one pass.

use super::rows::{Part, Reader, Whole};
use std::panic::resume_unwind;
use std::thread;

/// A part has so many bytes or more; below that a thread costs more than it gains. Measured.
const LEAST: usize = 1 << 20;
/// No more parts than this; the result does not depend on their number.
const MOST: usize = 4;

/// Reads every row from an offset on.
pub(super) fn read(whole: Whole<'_>, from: usize) -> Part {
    read_from(whole, &starts(whole.text.as_bytes(), from, LEAST))
}

/// The same in parts that begin at these offsets.
fn read_from(whole: Whole<'_>, starts: &[usize]) -> Part {
    let one = |from, to| Reader::new(whole).read(from, to);
    let [first, others @ ..] = starts else { return one(0, whole.text.len()) };
    let end = |at: usize| others.get(at).copied().unwrap_or(whole.text.len());
    let mut parts: Vec<Part> = thread::scope(|scope| {
        let start = |(at, &from)| scope.spawn(move || one(from, end(at + 1)));
        let started: Vec<_> = others.iter().enumerate().map(start).collect();
        let first = one(*first, end(0));
        let others = started.into_iter().map(|part| part.join().unwrap_or_else(|panic| resume_unwind(panic)));
        [first].into_iter().chain(others).collect()
    });
    if !parts.iter().zip(others).all(|(part, &next)| part.ends == Some(next)) {
        return one(*first, whole.text.len());
    }
    let mut whole = parts.remove(0);
    for part in parts {
        whole.absorb(part);
    }
    whole
}

/// Where parts begin: at an offset, then behind line ends at like distances. The line before is not empty, so that a part
/// that ends there reads no further for its last row.
fn starts(bytes: &[u8], from: usize, least: usize) -> Vec<usize> {
    let length = bytes.len().saturating_sub(from);
    let count = (length / least).clamp(1, MOST);
    let mut starts = vec![from];
    for at in 1..count {
        let target = from + length / count * at;
        let behind = (target..bytes.len()).find(|&at| is_row_end(bytes, at)).map(|at| at + 1);
        starts.extend(behind.filter(|&start| start < bytes.len() && Some(&start) > starts.last()));
    }
    starts
}

/// Whether a line that is not empty ends with the byte at an offset.
fn is_row_end(bytes: &[u8], at: usize) -> bool {
    let before = |back: usize| at.checked_sub(back).and_then(|at| bytes.get(at)).copied();
    let last = if before(1) == Some(b'\r') { before(2) } else { before(1) };
    bytes.get(at) == Some(&b'\n') && !matches!(last, None | Some(b'\n' | b'\r'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalog::Catalog;
    use crate::readings::{columns, lists};
    use crate::stats::random::Generator;
    use crate::text::FileId;

    const STUDY: &str = "study \"Parts\"
    begins 2026-03-02
surface lid
    size 900 x 700 mm
gauge g
    reads gloss-20
product ash
map sections 200 x 200 mm gap 10 mm
    | ash bare |
    | bare ash |
rounds
    baseline on 2026-03-02  gloss-20 3 times
    month 1 on 2026-04-02  gloss-20 3 times
readings \"readings.csv\"
";

    /// What parts of a row may be: names with slips, quotes with line ends and separators in them, one that is never closed.
    const PIECES: [&[&str]; 7] = [
        &["2026-03-02", "2026-04-02", "\"2026-04-02\"", "03/04/2026", "", "someday"],
        &["baseline", "month 1", "Month-1", "month 7", "\"month\n1\""],
        &["A1", "A2", "B1", "b2", "C9", " \"A1\"", ""],
        &["gloss-20", "\"gloss-20\"", "glos-20"],
        &["88.1", "87.25", "<70", "n/a", "", "88,1", "\"87.3\"", "x\u{fffd}"],
        &["g", "\"Head \"\"A\"\", 1\"", "h"],
        &["K. M.", "\"Lind, A.\"", "\"two\nlines\"", "\"\""],
    ];

    fn rows(generator: &mut Generator, count: usize) -> String {
        let mut text = String::from("date,round,section,measure,value,gauge,by\n");
        for _ in 0..count {
            let one = |list: &&[&'static str], generator: &mut Generator| {
                // Mostly the first, so that rows repeat as they do in a file.
                let at = generator.below(3 * list.len());
                list.get(at).copied().unwrap_or(list[0])
            };
            let fields: Vec<&str> = PIECES.iter().map(|list| one(list, generator)).collect();
            text.push_str(&fields.join(","));
            text.push_str(["\n", "\r\n", "\n\n"][generator.below(9).saturating_sub(6)]);
        }
        text
    }

    /// Everything that a part gives, as text.
    fn told(part: Part) -> String {
        let Part { builder, later, faults, state, dates_sound, .. } = part;
        format!("{:?}\n{later:?}\n{:?}\n{state:?}\n{dates_sound}", builder.finish(), faults.into_list())
    }

    #[test]
    fn a_file_in_parts_gives_what_one_pass_gives() {
        let (tree, _) = crate::syntax::parse(STUDY);
        let (study, _) = crate::study::resolve(&tree, Catalog::built_in(), None);
        let declared = study.readings.first().unwrap();
        let mut generator = Generator::new(11);
        let mut met = 0;
        for round in 0..300 {
            let mut text = rows(&mut generator, 40);
            if round % 10 == 0 {
                text.push_str("2026-03-02,baseline,\"A1,gloss-20,1\nnever,closed\n");
                text.push_str(&rows(&mut generator, 20));
            }
            let header = crate::table::header(&text).unwrap();
            let columns =
                columns::columns(&study, declared, (FileId(1), &text), &header, &mut Vec::new()).unwrap();
            let (as_of, separator) = (None, header.separator);
            let lists = lists(&study, declared);
            let whole = Whole {
                study: &study,
                text: &text,
                columns: &columns,
                lists: &lists,
                as_of,
                file: 0,
                separator,
            };
            let once = told(Reader::new(whole).read(header.row.end, text.len()));
            for least in [60, 200, 700] {
                let starts = starts(text.as_bytes(), header.row.end, least);
                met += usize::from(starts.len() > 1);
                assert_eq!(told(read_from(whole, &starts)), once, "{starts:?}\n{text}");
            }
        }
        assert!(met > 800, "{met}");
    }
}

//! Reads the rows of one file piece by piece, by several readers at the same time, with what one pass over it gives.
//!
//! Where a row ends depends on the quotes before it, so a piece that begins behind a line feed may begin within a field. Where
//! every piece ends with its last row, with no quote open, every cut was right: the first piece begins with a row, and so does
//! the one behind a piece that ends with one. Else nothing of it counts, and the file is read again in one pass.

use super::faults::Faults;
use super::hands::{hands, together};
use super::line::Ends;
use super::rows::{Part, Piece, Reader, Whole};
use super::source::Bytes;
use crate::text::Piece as Room;
use std::io;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// The bytes of a piece: it fits into the cache of a processor. Measured.
pub(super) const PIECE: usize = 1 << 17;
/// Below so many bytes a reader more costs more than it gains. Measured.
const LEAST: usize = 1 << 20;
/// Where the rows of a file begin: in its bytes, and in its text, which has no byte order mark.
#[derive(Debug, Clone, Copy)]
pub(super) struct Start {
    pub(super) mark: usize,
    pub(super) rows: usize,
}

/// Reads every row in pieces of so many bytes; `None` where it has to be read in one pass.
///
/// # Errors
/// Where the bytes cannot be read.
pub(super) fn read(
    whole: Whole<'_>,
    bytes: Bytes<'_>,
    start: Start,
    size: usize,
) -> io::Result<Option<Part>> {
    let origin = start.mark + start.rows;
    let length = bytes.length();
    let count = length.saturating_sub(origin).div_ceil(size);
    let (next, failed) = (AtomicUsize::new(0), AtomicBool::new(false));
    let hands = hands(length / LEAST);
    let whole = Whole { shape: whole.shape.among(hands), ..whole };
    let work = || -> io::Result<Reader<'_>> {
        let (mut reader, mut buffer) = (Reader::new(whole), Room::default());
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            if at >= count || failed.load(Ordering::Relaxed) {
                reader.stage.count();
                return Ok(reader);
            }
            let from = origin + at * size;
            let stretch = (from, (from + size).min(length));
            let (begin, lines) = bytes.lines(origin, stretch, &mut buffer).inspect_err(|_| {
                failed.store(true, Ordering::Relaxed);
            })?;
            let number = u32::try_from(at).unwrap_or(u32::MAX);
            let ends = reader.read(Piece { number, bytes: lines, base: begin - start.mark });
            let last = begin + lines.len() == length;
            if ends == Ends::NoText || (ends == Ends::Open && !last) {
                failed.store(true, Ordering::Relaxed);
            }
        }
    };
    let readers = together(hands, work);
    let readers = readers.into_iter().collect::<io::Result<Vec<_>>>()?;
    Ok(if failed.into_inner() { None } else { Some(joined(readers)) })
}

/// Reads every row of a text in one pass.
pub(super) fn read_once(whole: Whole<'_>, text: &str, from: usize) -> Part {
    let mut reader = Reader::new(whole);
    let rows = text.get(from..).unwrap_or_default();
    reader.read(Piece { number: 0, bytes: rows.as_bytes(), base: from });
    reader.stage.count();
    joined(vec![reader])
}

fn joined(readers: Vec<Reader<'_>>) -> Part {
    let mut part = Part::default();
    let mut faults: Vec<(u32, Faults)> = Vec::new();
    for reader in readers {
        faults.extend(reader.finish(&mut part));
    }
    faults.sort_by_key(|&(piece, _)| piece);
    for (_, own) in faults {
        part.faults.absorb(own);
    }
    part
}

#[cfg(test)]
mod tests {
    use super::super::build::Builder;
    use super::super::stage::Shape;
    use super::*;
    use crate::catalog::Catalog;
    use crate::readings::{columns, lists};
    use crate::stats::random::Generator;
    use crate::text::{FileId, Stored};

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
        &["g", "\"Head \"\"A\"\", 1\"", "h", "G"],
        &["K. M.", "\"Lind, A.\"", "\"two\nlines\"", "\"\"", "k. m."],
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

    /// Bytes that are copied when they are asked for, as from a disk.
    struct Far<'a>(&'a [u8]);

    impl Stored for Far<'_> {
        fn length(&self) -> usize {
            self.0.len()
        }

        fn read_at(&self, at: usize, piece: &mut [u8]) -> io::Result<()> {
            piece.copy_from_slice(self.0.get(at..at + piece.len()).ok_or(io::ErrorKind::UnexpectedEof)?);
            Ok(())
        }
    }

    /// Everything that a part gives, as text.
    fn told(shape: Shape, part: Part) -> String {
        let Part { stages, later, faults, state, undated, bad_dates } = part;
        let mut builder = Builder::new(shape);
        builder.absorb(stages, 0);
        let built = builder.finish();
        format!("{built:?}\n{later:?}\n{:?}\n{state:?}\n{undated:?}\n{bad_dates}", faults.into_list())
    }

    #[test]
    fn a_file_in_parts_gives_what_one_pass_gives() {
        let (tree, _) = crate::syntax::parse(STUDY);
        let (study, _) = crate::study::resolve(&tree, Catalog::built_in(), None);
        let declared = study.readings.first().unwrap();
        let mut generator = Generator::new(11);
        let (mut cut, mut again) = (0, 0);
        for round in 0..300 {
            let mut text = rows(&mut generator, 40);
            if round % 10 == 0 {
                text.push_str("2026-03-02,baseline,\"A1,gloss-20,1\nnever,closed\n");
                text.push_str(&rows(&mut generator, 20));
            }
            if round % 3 == 0 {
                text.truncate(text.trim_end().len());
            }
            let header = crate::table::header(&text).unwrap();
            let columns =
                columns::columns(&study, declared, (FileId(1), &text), &header, &mut Vec::new()).unwrap();
            let lists = lists(&study, declared);
            let shape = Shape::of(&study, 0);
            let whole = Whole {
                study: &study,
                columns: &columns,
                lists: &lists,
                as_of: None,
                separator: header.separator,
                shape,
            };
            let once = told(shape, read_once(whole, &text, header.row.end));
            let start = Start { mark: 0, rows: header.row.end };
            let far = Far(text.as_bytes());
            for size in [60, 200, 700] {
                for bytes in [Bytes::Held(text.as_bytes()), Bytes::Stored(&far)] {
                    match read(whole, bytes, start, size).unwrap() {
                        Some(part) => assert_eq!(told(shape, part), once, "{size}\n{text}"),
                        None => again += 1,
                    }
                    cut += 1;
                }
            }
        }
        // Both ways must have been gone often.
        assert!(cut == 1800 && (300..1500).contains(&again), "{again} of {cut}");
    }

    #[test]
    fn rows_are_equal_on_any_number_of_shelves_and_hands() {
        let (tree, _) = crate::syntax::parse(STUDY);
        let (study, _) = crate::study::resolve(&tree, Catalog::built_in(), None);
        let declared = study.readings.first().unwrap();
        let mut generator = Generator::new(12);
        let text =
            rows(&mut generator, 4000).replace("\"month\n1\"", "month 1").replace("\"two\nlines\"", "two");
        let header = crate::table::header(&text).unwrap();
        let columns =
            columns::columns(&study, declared, (FileId(1), &text), &header, &mut Vec::new()).unwrap();
        let lists = lists(&study, declared);
        let built = |bytes: usize, size: usize, hands: usize| {
            let shape = Shape::of(&study, bytes);
            let whole = Whole {
                study: &study,
                columns: &columns,
                lists: &lists,
                as_of: None,
                separator: header.separator,
                shape,
            };
            let next = AtomicUsize::new(0);
            let pieces: Vec<(usize, &[u8])> = {
                let (mut all, mut at) = (Vec::new(), header.row.end);
                while at < text.len() {
                    let rest = &text.as_bytes()[at..];
                    let behind = rest.iter().skip(size).position(|&byte| byte == b'\n');
                    let length = behind.map_or(rest.len(), |more| size + more + 1);
                    all.push((at, &rest[..length]));
                    at += length;
                }
                all
            };
            let read = |rows: &mut dyn Iterator<Item = &(usize, &[u8])>| {
                let mut reader = Reader::new(whole);
                for &(base, bytes) in rows {
                    let number = u32::try_from(base).unwrap();
                    assert_eq!(reader.read(Piece { number, bytes, base }), Ends::Row);
                }
                reader.stage.count();
                reader
            };
            let readers = match hands {
                // A reader for each piece remembers nothing of the others.
                0 => pieces.iter().map(|piece| read(&mut [piece].into_iter())).collect(),
                _ => together(hands, || {
                    let more = || pieces.get(next.fetch_add(1, Ordering::Relaxed));
                    read(&mut std::iter::from_fn(more))
                }),
            };
            let part = joined(readers);
            let mut builder = Builder::new(shape);
            builder.absorb(part.stages, 0);
            let readings = builder.finish();
            let all = |cell: &_| format!("{:?}\n", readings.of(cell).collect::<Vec<_>>());
            let cells: String = readings.cells().iter().map(all).collect();
            (cells, format!("{:?}", part.faults.into_list()), readings.len())
        };
        let once = built(0, usize::MAX / 2, 1);
        assert!(once.2 > 2000, "{}", once.2);
        assert_eq!(built(0, 0, 0), once, "rows that are read without what came before");
        for bytes in [0, 2 << 20, 64 << 20] {
            for hands in [1, 2, 8] {
                assert_eq!(built(bytes, 500, hands), once, "{bytes} {hands}");
            }
        }
    }
}

//! The work of a reading script, done with the library: five tables of one readings file in one page, and the digest of it.
//!
//! A study makes much more of its readings than a script does, so the two are compared here by equal work: every row
//! read and checked; readings counted by gauge and by person; mean, spread, 95 % interval, Grubbs' test and change of
//! every cell; every product against bare by Welch with Holm; one page that holds it all. `cargo bench --bench
//! five_tables -- FILE.study PAGE.html` writes the page; `--no-digest` in front leaves the digest out, to tell its share.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a benchmark reads, writes and ends where it cannot go on"
)]

use jiff::civil::date;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::fs::File;
use std::io::{self, Write as _};
use std::os::unix::fs::FileExt;
use std::path::Path;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{env, fs, thread};
use tapeline::diag::Finding;
use tapeline::pipeline::{self, Day};
use tapeline::readings::{self, Cell, Readings, StoredInput, Summary};
use tapeline::stats::distributions::t_quantile;
use tapeline::stats::{grubbs, holm, welch};
use tapeline::study::{MeasureId, RoundId, Study, Treatment};
use tapeline::text::{FileId, Hashed, Stored};

/// A file that is read piece by piece.
struct Disk {
    file: File,
    length: usize,
}

impl Stored for Disk {
    fn length(&self) -> usize {
        self.length
    }

    fn read_at(&self, at: usize, piece: &mut [u8]) -> io::Result<()> {
        self.file.read_exact_at(piece, at as u64)
    }
}

fn main() {
    let mut words: Vec<String> = env::args().skip(1).filter(|word| word != "--bench").collect();
    let digest = take(&mut words, "--no-digest").is_none();
    let [study, page] = words.as_slice() else {
        println!("cargo bench --bench five_tables -- [--no-digest] FILE.study PAGE.html");
        return;
    };
    let text = fs::read_to_string(study).unwrap();
    let opened = pipeline::open(study, &text, Day::Today(date(2026, 1, 1)));
    let folder = Path::new(study).parent().unwrap();
    let file = File::open(folder.join(opened.study.files().next().unwrap().value.as_str())).unwrap();
    let disk = Disk { length: usize::try_from(file.metadata().unwrap().len()).unwrap(), file };
    let mut file = File::create(page).unwrap();
    let digest = if digest {
        let hashed = Hashed::new(&disk);
        tables(&opened.study, &hashed, &mut file);
        hashed.sha256().unwrap()
    } else {
        tables(&opened.study, &disk, &mut file);
        String::new()
    };
    write!(file, "</tbody></table>\n<p>{digest}</p></body></html>").unwrap();
}

fn take(words: &mut Vec<String>, word: &str) -> Option<String> {
    words.iter().position(|one| one == word).map(|at| words.remove(at))
}

/// The cells of a piece of the page; it is written when those before it are.
const PIECE: usize = 512;

/// Pieces of the page that wait for one before them, the number of the next one, and where they go.
struct Desk<'f> {
    waiting: BTreeMap<usize, String>,
    next: usize,
    file: &'f mut File,
}

impl Desk<'_> {
    fn put(&mut self, at: usize, piece: String) {
        self.waiting.insert(at, piece);
        while let Some(piece) = self.waiting.remove(&self.next) {
            self.file.write_all(piece.as_bytes()).unwrap();
            self.next += 1;
        }
    }
}

/// The page: head with all but the last table, then the cells, made by two threads and written in order.
fn tables(study: &Study, disk: &dyn Stored, file: &mut File) {
    let input = StoredInput { file: FileId(1), bytes: disk };
    let (readings, findings) = readings::read_stored(study, &[Some(input)], None).unwrap();
    let limits = Limits::of(&readings);
    let desk = Mutex::new(Desk { waiting: BTreeMap::new(), next: 0, file });
    let next = AtomicUsize::new(0);
    let work = || {
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let piece = match at {
                0 => head(disk, &readings, &findings),
                1 => compared(study, &readings),
                _ => match readings.cells().chunks(PIECE).nth(at - 2) {
                    Some(list) => cells(study, &readings, list, &limits),
                    None => return,
                },
            };
            desk.lock().unwrap().put(at, piece);
        }
    };
    thread::scope(|scope| {
        if readings.cells().len() > PIECE {
            scope.spawn(work);
        }
        work();
    });
}

/// The page up to its third table.
fn head(disk: &dyn Stored, readings: &Readings, findings: &[Finding]) -> String {
    let mut page = String::from("<!doctype html><meta charset=\"utf-8\"><title>Readings</title><body>\n");
    problems(&mut page, findings, disk);
    counts(&mut page, readings);
    page
}

/// The table of products, and the head of the one of cells.
fn compared(study: &Study, readings: &Readings) -> String {
    let mut page = String::new();
    products(&mut page, study, readings);
    let heads = "section round measure n mean sd from to change outlier";
    let _ = writeln!(page, "<table id=\"cells\"><thead>{}</thead><tbody>", row(heads.split(' ')));
    page
}

fn row<'t>(texts: impl Iterator<Item = &'t str>) -> String {
    texts.fold(String::from("<tr>"), |row, text| row + "<th>" + text + "</th>") + "</tr>"
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

fn problems(page: &mut String, findings: &[Finding], disk: &dyn Stored) {
    page.push_str("<table id=\"problems\"><tbody>\n");
    let mut order: Vec<usize> = findings.iter().map(|finding| finding.place.span.start as usize).collect();
    order.sort_unstable();
    let lines = lines(disk, &order);
    for finding in findings {
        let line = order.binary_search(&(finding.place.span.start as usize)).map_or(0, |at| lines[at]);
        let _ = writeln!(
            page,
            "<tr><td>{line}</td><td>{}</td><td>{}</td></tr>",
            finding.code,
            escaped(&finding.message)
        );
    }
    page.push_str("</tbody></table>\n");
}

/// The lines of some places, which are sorted, by one pass up to the last of them.
fn lines(disk: &dyn Stored, places: &[usize]) -> Vec<usize> {
    let (mut lines, mut line, mut at) = (Vec::new(), 1, 0);
    let mut piece = Vec::new();
    for &place in places {
        while at < place {
            piece.resize((place - at).min(1 << 16), 0);
            disk.read_at(at, &mut piece).unwrap();
            line += feeds(&piece);
            at += piece.len();
        }
        lines.push(line);
    }
    lines
}

/// How many line feeds there are; so few bytes at once that a byte can count them.
fn feeds(bytes: &[u8]) -> usize {
    let few = |bytes: &[u8]| bytes.iter().fold(0_u8, |few, &byte| few.wrapping_add(u8::from(byte == b'\n')));
    bytes.chunks(255).map(|bytes| usize::from(few(bytes))).sum()
}

/// Readings by gauge and by person.
fn counts(page: &mut String, readings: &Readings) {
    let mut gauges: BTreeMap<&str, usize> = BTreeMap::new();
    let mut people: BTreeMap<&str, usize> = BTreeMap::new();
    for (gauge, person, count) in readings.by_hand() {
        *gauges.entry(gauge.unwrap_or_default()).or_default() += count;
        *people.entry(person.unwrap_or_default()).or_default() += count;
    }
    for (id, counts) in [("gauges", gauges), ("people", people)] {
        let _ = writeln!(page, "<table id=\"{id}\"><tbody>");
        for (name, count) in counts {
            let _ = writeln!(page, "<tr><td>{}</td><td>{count}</td></tr>", escaped(name));
        }
        page.push_str("</tbody></table>\n");
    }
}

/// The round from which changes count.
fn baseline(study: &Study) -> RoundId {
    RoundId::new(study.rounds.iter().position(|round| round.name.value == "baseline").unwrap())
}

fn change(readings: &Readings, cell: &Cell, baseline: RoundId) -> Option<f64> {
    Some(cell.kept.mean()? - readings.cell(cell.section, baseline, cell.measure)?.kept.mean()?)
}

/// For each round and measure: every product against bare by Welch, with Holm over the products.
fn products(page: &mut String, study: &Study, readings: &Readings) {
    let baseline = baseline(study);
    let mut changes: BTreeMap<(RoundId, MeasureId), Vec<Vec<f64>>> = BTreeMap::new();
    let of = |treatment| match treatment {
        Treatment::Product(product) => product.index(),
        _ => study.products.len(),
    };
    let groups: Vec<usize> = study.sections.iter().map(|section| of(section.treatment)).collect();
    for cell in readings.cells().iter().filter(|cell| cell.round != baseline) {
        let lists = changes.entry((cell.round, cell.measure));
        let lists = lists.or_insert_with(|| vec![Vec::new(); study.products.len() + 1]);
        lists[groups[cell.section.index()]].extend(change(readings, cell, baseline));
    }
    page.push_str("<table id=\"products\"><tbody>\n");
    for ((round, measure), lists) in &changes {
        let (bare, products) = lists.split_last().unwrap();
        let found: Vec<_> = products.iter().map(|list| welch::difference(list, bare)).collect();
        let p: Vec<f64> = found.iter().flatten().filter_map(welch::WelchDifference::p).collect();
        let mut holm = holm::adjusted(&p).unwrap_or_default().into_iter().zip(p);
        for ((list, found), product) in products.iter().zip(&found).zip(&study.products) {
            let mean = list.iter().sum::<f64>() / list.len() as f64;
            let _ = write!(
                page,
                "<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{mean:.3}</td>",
                study.rounds[round.index()].name.value,
                study.measures[measure.index()].name.value,
                product.name.value,
                list.len()
            );
            match found.and_then(|found| Some((found, holm.next()?))) {
                Some((found, (adjusted, p))) => {
                    let _ = writeln!(
                        page,
                        "<td>{:.3}</td><td>{p:.3e}</td><td>{adjusted:.3e}</td></tr>",
                        found.difference
                    );
                }
                None => page.push_str("<td></td><td></td><td></td></tr>\n"),
            }
        }
    }
    page.push_str("</tbody></table>\n");
}

/// What a cell of n readings is held against, found once for each n: half of its interval over its spread, and Grubbs' limit.
struct Limits(Vec<(f64, f64)>);

impl Limits {
    fn of(readings: &Readings) -> Self {
        let most = readings.cells().iter().map(|cell| cell.kept.n as usize).max().unwrap_or(0);
        let mut has = vec![false; most + 1];
        for cell in readings.cells() {
            has[cell.kept.n as usize] = true;
        }
        let of = |n: usize| {
            let half = t_quantile(0.975, n as f64 - 1.0).map_or(f64::NAN, |t| t / (n as f64).sqrt());
            (half, grubbs::critical_value(n, 0.05).unwrap_or(f64::INFINITY))
        };
        Self((0..=most).map(|n| if has[n] && n > 1 { of(n) } else { (f64::NAN, f64::INFINITY) }).collect())
    }
}

fn cells(study: &Study, readings: &Readings, list: &[Cell], limits: &Limits) -> String {
    let baseline = baseline(study);
    let mut page = String::with_capacity(list.len() * 170);
    for cell in list {
        let Summary { n, min, max, .. } = cell.kept;
        let (mean, sd) = (cell.kept.mean(), cell.kept.sd());
        let (half, limit) = limits.0[n as usize];
        for (before, text) in [
            ("<tr><td>", study.sections[cell.section.index()].code.as_str()),
            ("</td><td>", study.rounds[cell.round.index()].name.value.as_str()),
            ("</td><td>", study.measures[cell.measure.index()].name.value.as_str()),
        ] {
            page.push_str(before);
            page.push_str(text);
        }
        let _ = write!(page, "</td><td>{n}</td>");
        let ends = mean.zip(sd).map(|(mean, sd)| (mean - half * sd, mean + half * sd));
        let numbers =
            [mean, sd, ends.map(|ends| ends.0), ends.map(|ends| ends.1), change(readings, cell, baseline)];
        for number in numbers {
            page.push_str("<td>");
            if let Some(number) = number {
                three_decimals(&mut page, number);
            }
            page.push_str("</td>");
        }
        let far = mean.zip(sd).and_then(|(mean, sd)| grubbs::statistic(mean, sd, (min, max)));
        page.push_str(if far.is_some_and(|far| far > limit) {
            "<td>yes</td></tr>\n"
        } else {
            "<td></td></tr>\n"
        });
    }
    page
}

/// Writes a number as `{:.3}` does: by its thousandths where they are plain, else by that.
fn three_decimals(page: &mut String, number: f64) {
    let thousandths = number.abs() * 1000.0;
    let whole = thousandths.floor();
    // One rounding lies in the product, so what is near a half is left to the exact way.
    if thousandths < 1e9 && (thousandths - whole - 0.5).abs() > 1e-5 {
        let mut rest = whole as u64 + u64::from(thousandths - whole > 0.5);
        let mut digits = [b'0'; 16];
        let mut at = digits.len();
        while rest > 0 || at > digits.len() - 5 {
            at -= 1;
            if at == digits.len() - 4 {
                digits[at] = b'.';
            } else {
                digits[at] = b'0' + (rest % 10) as u8;
                rest /= 10;
            }
        }
        if number.is_sign_negative() {
            page.push('-');
        }
        page.push_str(std::str::from_utf8(&digits[at..]).unwrap());
    } else {
        let _ = write!(page, "{number:.3}");
    }
}

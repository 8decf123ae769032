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
    reason = "a benchmark reads, writes and ends where it cannot go on"
)]

use jiff::civil::date;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::io::Write as _;
use std::path::Path;
use std::{env, fs, thread};
use tapeline::diag::Finding;
use tapeline::pipeline::{self, Day};
use tapeline::readings::{self, Cell, Input, Readings, Summary};
use tapeline::stats::distributions::t_quantile;
use tapeline::stats::{grubbs, holm, welch};
use tapeline::study::{MeasureId, RoundId, Study, Treatment};
use tapeline::text::{FileId, sha256};

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
    let bytes = fs::read(folder.join(opened.study.files().next().unwrap().value.as_str())).unwrap();
    let (tables, digest) = thread::scope(|scope| {
        let hash = scope.spawn(|| if digest { sha256(&[&bytes]) } else { String::new() });
        (tables(&opened.study, &bytes), hash.join().unwrap())
    });
    let mut file = fs::File::create(page).unwrap();
    for part in &tables {
        file.write_all(part.as_bytes()).unwrap();
    }
    write!(file, "<p>{digest}</p></body></html>").unwrap();
}

fn take(words: &mut Vec<String>, word: &str) -> Option<String> {
    words.iter().position(|one| one == word).map(|at| words.remove(at))
}

/// The page in parts: head with all but the last table, then the cells by halves of the sections.
fn tables(study: &Study, bytes: &[u8]) -> Vec<String> {
    let (readings, findings) = readings::read(study, &[Some(Input { file: FileId(1), bytes })]);
    let limits = Limits::of(&readings);
    let (front, back) = readings.cells().split_at(readings.cells().len() / 2);
    thread::scope(|scope| {
        let first = scope.spawn(|| {
            let mut page =
                String::from("<!doctype html><meta charset=\"utf-8\"><title>Readings</title><body>\n");
            problems(&mut page, &findings, bytes);
            counts(&mut page, &readings);
            products(&mut page, study, &readings);
            let heads = "section round measure n mean sd from to change outlier";
            let _ = writeln!(page, "<table id=\"cells\"><thead>{}</thead><tbody>", row(heads.split(' ')));
            let cells = cells(study, &readings, front, &limits);
            (page, cells)
        });
        let last = cells(study, &readings, back, &limits);
        let (page, cells) = first.join().unwrap();
        vec![page, cells, last, String::from("</tbody></table>\n")]
    })
}

fn row<'t>(texts: impl Iterator<Item = &'t str>) -> String {
    texts.fold(String::from("<tr>"), |row, text| row + "<th>" + text + "</th>") + "</tr>"
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

fn problems(page: &mut String, findings: &[Finding], bytes: &[u8]) {
    page.push_str("<table id=\"problems\"><tbody>\n");
    for finding in findings {
        let at = finding.place.span.start as usize;
        let line = 1 + bytes.iter().take(at).filter(|&&byte| byte == b'\n').count();
        let _ = writeln!(
            page,
            "<tr><td>{line}</td><td>{}</td><td>{}</td></tr>",
            finding.code,
            escaped(&finding.message)
        );
    }
    page.push_str("</tbody></table>\n");
}

/// Readings by gauge and by person.
fn counts(page: &mut String, readings: &Readings) {
    let mut gauges: BTreeMap<&str, usize> = BTreeMap::new();
    let mut people: BTreeMap<&str, usize> = BTreeMap::new();
    for cell in readings.cells() {
        for reading in readings.of(cell) {
            *gauges.entry(reading.gauge.unwrap_or_default()).or_default() += 1;
            *people.entry(reading.by.unwrap_or_default()).or_default() += 1;
        }
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
    Some(cell.kept.mean? - readings.cell(cell.section, baseline, cell.measure)?.kept.mean?)
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
        let Summary { n, mean, sd, min, max } = cell.kept;
        let (half, limit) = limits.0[n as usize];
        let _ = write!(
            page,
            "<tr><td>{}</td><td>{}</td><td>{}</td><td>{n}</td>",
            study.sections[cell.section.index()].code,
            study.rounds[cell.round.index()].name.value,
            study.measures[cell.measure.index()].name.value,
        );
        let ends = mean.zip(sd).map(|(mean, sd)| (mean - half * sd, mean + half * sd));
        let numbers =
            [mean, sd, ends.map(|ends| ends.0), ends.map(|ends| ends.1), change(readings, cell, baseline)];
        for number in numbers {
            let _ = match number {
                Some(number) => write!(page, "<td>{number:.3}</td>"),
                None => write!(page, "<td></td>"),
            };
        }
        let far = mean.zip(sd).and_then(|(mean, sd)| grubbs::statistic(mean, sd, (min, max)));
        let _ =
            writeln!(page, "<td>{}</td></tr>", if far.is_some_and(|far| far > limit) { "yes" } else { "" });
    }
    page
}

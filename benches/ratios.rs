//! Speed, as ratios to a stated limit that runs in the same benchmark. It measures and prints; it judges nothing.
//!
//! `cargo bench` runs it. Times are medians; a ratio is the median of the ratios of neighbouring runs, so that
//! what else the machine does touches both sides alike.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "a benchmark measures time and prints"
)]

use std::fmt::Write;
use std::fs;
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};
use tapeline::checks;
use tapeline::pipeline::{self, Day};

fn main() {
    study_lines();
    rows();
    build();
    start();
}

fn timed<T>(work: impl FnOnce() -> T) -> Duration {
    let start = Instant::now();
    black_box(work());
    start.elapsed()
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn ms(duration: Duration) -> f64 {
    duration.as_secs_f64() * 1e3
}

fn today() -> Day {
    Day::Today(jiff::civil::date(2026, 6, 1))
}

/// A study of about so many lines: products, sections and rounds, as a large one would have.
fn long_study(lines: usize) -> String {
    let frame = checks::example("").study;
    let (before, after) = frame.split_once("prep\n").unwrap();
    let mut study = before.to_owned();
    for n in 0..lines.saturating_sub(frame.lines().count()) / 6 {
        let _ = write!(
            study,
            "product item-{n} \"Item {n}\", a wax\n    bought 12.50 EUR for 250 ml\n    batch \"B{n}\" opened 2026-03-01\n    \
             flash 6 to 9 min\n    dry 1 h\n    cure 24 h\n"
        );
    }
    study.push_str("prep\n");
    study.push_str(after);
    study
}

/// Parse and check: the cost must grow with the lines and no faster.
fn study_lines() {
    let check = |text: &str| pipeline::check("bench.study", text, &[], today()).findings.len();
    let (short, long) = (long_study(1_000), long_study(10_000));
    let times = |text: &str| median((0..21).map(|_| ms(timed(|| check(text)))).collect());
    let (one, ten) = (times(&short), times(&long));
    println!("parse and check, {} lines: {one:.2} ms", short.lines().count());
    println!(
        "parse and check, {} lines: {ten:.2} ms ({:.1} x the shorter one)",
        long.lines().count(),
        ten / one
    );
}

/// A study with 1,000 sections, 20 rounds and 3 measures, and its rows in the order in which they are taken.
fn large() -> (String, String) {
    let mut study =
        String::from("study \"Large\"\n    begins 2026-01-05\nsurface wall\n    size 20 x 20 m\n");
    study.push_str("gauge g\n    reads gloss-20 and film and contact-angle\nmeasure gloss-20\nmeasure film\nmeasure contact-angle\n");
    study.push_str("product bay\nmap sections 100 x 100 mm gap 10 mm from left 10 mm, top 10 mm\n");
    for row in 0..40 {
        let cells: Vec<&str> =
            (0..25).map(|column| if (row + column) % 3 == 0 { "bare" } else { "bay" }).collect();
        let _ = writeln!(study, "    | {} |", cells.join(" "));
    }
    study.push_str("rounds\n    every round gloss-20 17 times, film 17 times, contact-angle 17 times\n    baseline on 2026-01-06\n");
    for week in 1..20 {
        let _ = writeln!(study, "    week {week} on 2026-{:02}-{:02}", 2 + week / 2, 3 + 14 * (week % 2));
    }
    study.push_str("readings \"readings.csv\"\n");
    let sections: Vec<String> =
        pipeline::open("large", &study, today()).study.sections.iter().map(|s| s.code.clone()).collect();
    let mut rows = String::from("date,round,section,measure,value,unit,gauge,by\n");
    let mut state = 88_172_645_463_325_252_u64;
    'rows: for week in 0..20 {
        let (round, date) = match week {
            0 => ("baseline".to_owned(), "2026-01-06".to_owned()),
            week => (format!("week {week}"), format!("2026-{:02}-{:02}", 2 + week / 2, 3 + 14 * (week % 2))),
        };
        for section in &sections {
            for (measure, unit) in [("gloss-20", "GU"), ("film", "um"), ("contact-angle", "deg")] {
                for _ in 0..17 {
                    state ^= state << 13;
                    state ^= state >> 7;
                    state ^= state << 17;
                    let (whole, part) = (80 + state % 3, state / 7 % 100);
                    let _ = writeln!(
                        rows,
                        "{date},{round},{section},{measure},{whole}.{part:02},{unit},g,\"Lind, A.\""
                    );
                    if rows.len() > 68_000_000 {
                        break 'rows;
                    }
                }
            }
        }
    }
    (study, rows)
}

fn bare_pass(text: &str) -> usize {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut record = csv::ByteRecord::new();
    let mut bytes = 0;
    while reader.read_byte_record(&mut record).unwrap() {
        bytes += record.get(4).map_or(0, <[u8]>::len);
    }
    bytes
}

/// Reading a million rows with every check on them, against a bare pass of the csv crate over the same bytes.
fn rows() {
    let (study, rows) = large();
    let count = rows.lines().count() - 1;
    let mut pairs: Vec<(Duration, Duration)> = Vec::new();
    for _ in 0..7 {
        let bare = timed(|| bare_pass(&rows));
        let opened = pipeline::open("large.study", &study, today());
        let bytes = vec![Some(rows.clone().into_bytes())];
        pairs.push((bare, timed(move || opened.check(bytes).findings.len())));
    }
    let ratio = median(pairs.iter().map(|(bare, ours)| ours.as_secs_f64() / bare.as_secs_f64()).collect());
    let bare = median(pairs.iter().map(|(bare, _)| ms(*bare)).collect());
    println!("{count} rows, bare csv pass: {bare:.0} ms; read and checked: {ratio:.2} x that");
}

const EXAMPLE: &str = "examples/coach-door";

/// The whole build of the large example, in memory.
fn build() {
    let text = fs::read_to_string(Path::new(EXAMPLE).join("coach-door.study")).unwrap();
    let readings = fs::read(Path::new(EXAMPLE).join("readings.csv")).unwrap();
    let files = [("readings.csv".to_owned(), readings)];
    let run = || {
        let outcome =
            pipeline::check("coach-door.study", &text, &files, Day::Today(jiff::civil::date(2026, 11, 24)));
        outcome.build(None).unwrap().iter().map(|artifact| artifact.bytes.len()).sum::<usize>()
    };
    let (bytes, times) = (run(), median((0..21).map(|_| ms(timed(run))).collect()));
    println!("build of {EXAMPLE}: {times:.1} ms for {} KB of outputs", bytes / 1000);
}

/// Whole processes: `check` of the large example against a program that does nothing.
fn start() {
    let folder = std::env::temp_dir().join(format!("tapeline-bench-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let source = folder.join("empty.rs");
    fs::write(&source, "fn main() {}").unwrap();
    let empty = folder.join("empty");
    let built = Command::new("rustc")
        .args(["-O", "-o"])
        .arg(&empty)
        .arg(&source)
        .status()
        .is_ok_and(|status| status.success());
    if built {
        let study = format!("{EXAMPLE}/coach-door.study");
        let spawn = |program: &Path, arguments: &[&str]| {
            timed(|| Command::new(program).args(arguments).stdout(Stdio::null()).status().unwrap())
        };
        let ours = Path::new(env!("CARGO_BIN_EXE_tapeline"));
        let pairs: Vec<(Duration, Duration)> = (0..300)
            .map(|_| (spawn(&empty, &[]), spawn(ours, &["check", &study, "--as-of", "2026-11-24"])))
            .collect();
        let ratio =
            median(pairs.iter().map(|(bare, ours)| ours.as_secs_f64() / bare.as_secs_f64()).collect());
        let bare = median(pairs.iter().map(|(bare, _)| ms(*bare)).collect());
        println!("check of {EXAMPLE}, 300 starts: {ratio:.2} x an empty process of {bare:.2} ms");
    }
    let _ = fs::remove_dir_all(&folder);
}

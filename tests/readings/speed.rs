//! How long a million rows take, as a ratio to a bare pass of the csv crate over the same bytes.

use super::study::{at, file, measure, round, section};
use std::fmt::Write;
use std::hint::black_box;
use std::time::Duration;
use tapeline::readings::{Input, outliers, read};
use tapeline::study::{Gauge, Study, Treatment};
use tapeline::text::FileId;

/// The most that reading, joining, cells and outliers may cost, in passes of the csv crate.
const GOAL: f64 = 2.5;

/// Rows in no order miss the processor's caches at every step, so they may cost a little more.
const GOAL_SHUFFLED: f64 = 3.5;

const SECTIONS: usize = 1000;
const ROUNDS: usize = 20;
const MEASURES: [(&str, &str); 3] = [("gloss-20", "GU"), ("film", "um"), ("contact-angle", "deg")];

fn large_study() -> Study {
    Study {
        measures: MEASURES.iter().map(|(name, unit)| measure(name, unit, (-1e3, 1e4))).collect(),
        sections: (0..SECTIONS)
            .map(|n| section(&format!("P{:03}-R{:02}", n / 20, n % 20), Treatment::Bare))
            .collect(),
        rounds: (0..ROUNDS).map(|n| round(&format!("week {n}"), 3, 17)).collect(),
        gauges: Vec::<Gauge>::new(),
        title: at("large".into()),
        readings: vec![file("readings.csv")],
        ..Study::default()
    }
}

/// A small generator of numbers that are even enough for a file (Marsaglia 2003, xorshift).
struct Numbers(u64);

impl Numbers {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }
}

/// Rows in the order in which they are taken; with `shuffled` in no order, with `faults` some rows are faulty.
fn rows(count: usize, shuffled: bool, faults: usize) -> String {
    let mut numbers = Numbers(88_172_645_463_325_252);
    let cells = SECTIONS * ROUNDS * MEASURES.len();
    let mut lines = Vec::with_capacity(count);
    for row in 0..count {
        let cell = row * cells / count;
        let (visit, kind) = (cell / MEASURES.len(), cell % MEASURES.len());
        let (week, section) = (visit / SECTIONS, visit * 389 % SECTIONS);
        let (name, unit) = MEASURES[kind];
        let gauge = ["\"Head A, no. 4471\"", "\"Head B, no. 4480\"", "Bench 2"][cell * 7 % 3];
        let by = ["\"Lind, A.\"", "M. Brandt", "\"Nu\u{f1}ez, C.\""][section * 3 / SECTIONS];
        let (whole, part) = (60 + numbers.next() % 30, numbers.next() % 100);
        let day = 1 + section * 3 / SECTIONS;
        let bad = faults > 0 && row % (count / faults) == 0;
        let value = if bad { format!("{whole}.{part:02}x") } else { format!("{whole}.{part:02}") };
        lines.push(format!(
            "2026-{:02}-{day:02},week {week},P{:03}-R{:02},{name},{value},{unit},{gauge},{by}\n",
            1 + week % 12,
            section / 20,
            section % 20,
        ));
    }
    if shuffled {
        for at in (1..lines.len()).rev() {
            let other = usize::try_from(numbers.next() % (at as u64 + 1)).unwrap();
            lines.swap(at, other);
        }
    }
    let mut text = String::from("date,event,section,measure,value,unit,instrument,operator\n");
    for line in lines {
        text.write_str(&line).unwrap();
    }
    text
}

#[allow(clippy::disallowed_methods, reason = "this test measures time")]
fn timed(work: impl FnOnce()) -> Duration {
    let start = std::time::Instant::now();
    work();
    start.elapsed()
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

/// Runs both in turn and gives the median of the ratios.
fn ratio(study: &Study, text: &str) -> f64 {
    let mut ratios: Vec<f64> = (0..9)
        .map(|_| {
            let bare = timed(|| {
                black_box(bare_pass(text));
            });
            let ours = timed(|| {
                let input = Input { file: FileId(1), bytes: text.as_bytes() };
                let (readings, findings) = read(study, &[Some(input)]);
                black_box((outliers(study, &readings), findings));
            });
            ours.as_secs_f64() / bare.as_secs_f64()
        })
        .collect();
    ratios.sort_by(f64::total_cmp);
    ratios[ratios.len() / 2]
}

#[test]
#[ignore = "measures time: run alone, with --release"]
fn a_million_rows_cost_few_passes_of_the_csv_crate() {
    let study = large_study();
    for (what, shuffled, faults) in
        [("in order", false, 0), ("200 faulty", false, 200), ("shuffled", true, 0)]
    {
        let text = rows(1_000_000, shuffled, faults);
        let ratio = ratio(&study, &text);
        println!("{what}: {} bytes, {ratio:.2} passes of the csv crate", text.len());
        let goal = if shuffled { GOAL_SHUFFLED } else { GOAL };
        assert!(ratio <= goal, "{what}: {ratio:.2} passes, goal {goal}");
    }
}

#[test]
#[ignore = "measures time: run alone, with --release"]
fn the_cost_of_faults_grows_with_their_number_only() {
    let study = large_study();
    let time = |count: usize| {
        let mut text = String::from("date,round,section,measure,value\n");
        for row in 0..count {
            writeln!(text, "2026-03-11,week 1,Q{row},film,{row}x").unwrap();
        }
        let mut times: Vec<Duration> = (0..5)
            .map(|_| {
                timed(|| {
                    let (_, findings) =
                        read(&study, &[Some(Input { file: FileId(1), bytes: text.as_bytes() })]);
                    assert_eq!(findings.len(), 2 * count);
                })
            })
            .collect();
        times.sort();
        times[2].as_secs_f64()
    };
    let (one, four) = (time(50_000), time(200_000));
    println!("{:.2} us a fault, four times as many cost {:.1} times as much", one / 0.1, four / one);
    assert!(four / one < 8.0, "{:.1} times", four / one);
}

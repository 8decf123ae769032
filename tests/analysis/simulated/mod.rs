//! The whole simulated study, read from its file with its planted faults, against a reference analysis by other libraries.

mod change;
mod faults;
mod last_round;
mod levels;
mod nested;
mod over_time;
mod spent;

use serde::Deserialize;
use tapeline::analysis::{Analysis, MeasureAnalysis, SectionNumbers, analyse};
use tapeline::pipeline::{self, Day, Outcome};
use tapeline::study::{RoundId, Treatment};

/// What stands on each section; the names of the products say nothing.
const SECTIONS: [(&str, [&str; 2]); 5] = [
    ("first", ["A5", "B1"]),
    ("second", ["A3", "B3"]),
    ("third", ["A4", "B5"]),
    ("fourth", ["A2", "B2"]),
    ("bare", ["A1", "B4"]),
];
const STUDY: &str = r#"study "Simulated"
    begins 2023-03-15
    decide by gloss at month 9
surface wall
    size 1200 x 900 mm
measure gloss in GU
    higher is better
    spent below 60 GU
    change from fresh
measure contact-angle in deg
    higher is better
    change from fresh
measure uv-absorbance in AU
    higher is better
    change from fresh
measure colour in dE00
    lower is better
    change from fresh
product first
product second
product third
product fourth
map sections 230 x 440 mm gap 10 mm from left 5 mm, top 5 mm
    | bare fourth second third first |
    | first fourth second bare third |
apply
    on 2023-03-15
rounds
    fresh on 2023-03-15
    month 1
    month 3
    month 6
    month 9
    every round gloss 3 times, contact-angle twice, uv-absorbance once, colour once
readings "readings.csv"
"#;
const READINGS: &str = include_str!("readings.csv");
const LEFT_OUT: &str = "    leave out gloss of A5 at month 3, 60.1 GU because \"the simulation moved it\"\n";
const ROUNDS: [&str; 5] = ["fresh", "month-1", "month-3", "month-6", "month-9"];
const MONTHS: [f64; 5] = [0.0, 1.0, 3.0, 6.0, 9.0];
/// The last place in [`ROUNDS`].
const LAST: usize = 4;

/// How far a number may be off: as a share of the expected one, or as it stands.
#[derive(Clone, Copy, Deserialize)]
struct Tolerance {
    relative: f64,
    #[serde(default)]
    absolute: f64,
}

impl Tolerance {
    #[track_caller]
    fn near(self, what: &str, value: f64, expected: f64) {
        let off = (value - expected).abs();
        let most = self.absolute.max(self.relative * expected.abs());
        assert!(off <= most, "{what}: {value:e} instead of {expected:e}, off by {off:e}");
    }

    #[track_caller]
    fn all<const N: usize>(self, what: &str, values: [f64; N], expected: [f64; N]) {
        for (value, expected) in values.into_iter().zip(expected) {
            self.near(what, value, expected);
        }
    }
}

fn read<T: for<'a> Deserialize<'a>>(text: &str) -> T {
    toml::from_str(text).unwrap()
}

/// The study as it is checked, and its numbers.
struct Whole {
    outcome: Outcome,
    analysis: Analysis,
}

fn whole(study: &str, readings: &str) -> Whole {
    let files = [("readings.csv".to_owned(), readings.as_bytes().to_vec())];
    let day = Day::AsOf("2024-01-01".parse().unwrap());
    let outcome = pipeline::check("simulated.study", study, &files, day);
    let analysis = analyse(&outcome.study, &outcome.readings, outcome.day.as_of());
    Whole { outcome, analysis }
}

/// The readings without the row of an unknown section and one of two rows that are doubled.
fn sound() -> String {
    let lines = READINGS.split_inclusive('\n').enumerate().filter(|(at, _)| ![112, 221].contains(at));
    lines.map(|(_, line)| line).collect()
}

/// The study as the reference analysis takes it: without what was planted.
fn without_outlier() -> Whole {
    whole(&format!("{STUDY}{LEFT_OUT}"), &sound())
}

/// The same with the one reading that lies far off.
fn with_outlier() -> Whole {
    whole(STUDY, &sound())
}

impl Whole {
    fn measure(&self, name: &str) -> &MeasureAnalysis {
        let found = |one: &&MeasureAnalysis| self.outcome.study.measure(one.measure).name.value == name;
        self.analysis.measures.iter().find(found).unwrap()
    }

    fn treatment(&self, name: &str) -> Treatment {
        let product = self.outcome.study.products_with_ids().find(|(_, product)| product.name.value == name);
        product.map_or(Treatment::Bare, |(id, _)| Treatment::Product(id))
    }

    /// The round at a place in [`ROUNDS`].
    fn round(&self, place: usize) -> RoundId {
        self.outcome.study.rounds_with_ids().nth(place).unwrap().0
    }

    fn section(&self, measure: &str, code: &str, round: usize) -> SectionNumbers {
        let (id, _) = self.outcome.study.places().find(|(_, section)| section.code == code).unwrap();
        let series = self.measure(measure).sections.iter().find(|series| series.section == id).unwrap();
        series.at[round].numbers
    }

    /// The levels of the sections of every treatment in the order of [`SECTIONS`].
    fn levels(&self, measure: &str, round: usize) -> Vec<Vec<f64>> {
        let level = |code: &&str| self.section(measure, code, round).level.map(|level| level.mean).ok();
        SECTIONS.iter().map(|(_, codes)| codes.iter().filter_map(level).collect()).collect()
    }

    /// The mean over the sections of a treatment at every round, of gloss.
    fn means(&self, name: &str) -> Vec<f64> {
        let series = self.measure("gloss").group(self.treatment(name)).unwrap();
        series.at.iter().map(|at| at.level.unwrap().mean).collect()
    }

    /// The readings of every section at the last round, in the order of [`SECTIONS`].
    fn readings(&self, measure: &str) -> Vec<Vec<f64>> {
        let (study, readings) = (&self.outcome.study, &self.outcome.readings);
        let id = |code: &str| study.places().find(|(_, section)| section.code == code).unwrap().0;
        let (measure, round) = (self.measure(measure).measure, self.round(LAST));
        let of = |code: &&str| readings.values(readings.cell(id(code), round, measure).unwrap());
        SECTIONS.iter().flat_map(|(_, codes)| codes.iter().map(of)).collect()
    }
}

/// Place of a treatment in [`SECTIONS`].
fn place(name: &str) -> usize {
    SECTIONS.iter().position(|(own, _)| *own == name).unwrap()
}

#[test]
fn the_study_is_read_without_error() {
    let found = without_outlier();
    let errors = found.outcome.findings.iter().filter(|one| one.severity == tapeline::diag::Severity::Error);
    assert_eq!(errors.count(), 0, "{:?}", found.outcome.findings);
    assert_eq!(found.readings("gloss")[2 * place("fourth")], [60.4, 60.4, 60.6]);
}

//! What was planted: a doubled row, a section that is not there, one reading far off.

use super::{READINGS, STUDY, Tolerance, Whole, read, whole, with_outlier, without_outlier};
use serde::Deserialize;
use tapeline::analysis::Missing;
use tapeline::diag::{Finding, Severity};
use tapeline::readings::Suspect;
use tapeline::stats::grubbs::{critical_value, grubbs};
use tapeline::stats::summary::median;

#[derive(Deserialize)]
struct Truth {
    #[serde(flatten)]
    tolerance: Tolerance,
    rows: usize,
    rows_used: u32,
    unknown_section: u32,
    doubled: [u32; 2],
    rows_equal_to_an_earlier_row: usize,
    missing: [String; 2],
    more_than_planned: [String; 3],
    outlier: Outlier,
    flagged: Flagged,
}

#[derive(Deserialize)]
struct Outlier {
    section: String,
    round: String,
    line: u32,
    value: f64,
    readings: Vec<f64>,
    mean_with: f64,
    mean_without: f64,
    median: f64,
    grubbs: [f64; 4],
    place: usize,
    reject: bool,
}

#[derive(Deserialize)]
struct Flagged {
    cells: usize,
    levels: Vec<f64>,
    found: Vec<usize>,
}

fn truth() -> Truth {
    read(include_str!("faults.toml"))
}

fn found<'a>(study: &'a Whole, code: &str) -> Vec<&'a Finding> {
    study.outcome.findings.iter().filter(|finding| finding.code == code).collect()
}

/// The line of the readings at which a finding stands, from 1.
fn line(study: &Whole, finding: &Finding) -> u32 {
    let source = study.outcome.sources.get(finding.place.file).unwrap();
    assert_eq!(source.base_name(), "readings.csv");
    source.line_column(finding.place.span.start).0
}

#[test]
fn the_file_as_it_came_is_told_from_a_sound_one() {
    let (truth, study) = (truth(), whole(STUDY, READINGS));
    assert_eq!(READINGS.lines().count() - 1, truth.rows);
    let errors: Vec<_> =
        study.outcome.findings.iter().filter(|one| one.severity == Severity::Error).collect();
    assert_eq!(errors, found(&study, "unknown-section"));
    assert_eq!(errors.iter().map(|one| line(&study, one)).collect::<Vec<_>>(), [truth.unknown_section]);

    let more = found(&study, "more-readings-than-planned");
    let [section, round, measure] = &truth.more_than_planned;
    assert_eq!(more.len(), 1);
    for name in [section, round, measure] {
        assert!(more[0].message.contains(&format!("`{name}`")), "{}", more[0].message);
    }
    // Rows that are equal to an earlier one are common and real: the count against the plan shows the one that was doubled.
    let lines: Vec<&str> = READINGS.lines().collect();
    let equal = lines.iter().enumerate().filter(|&(at, line)| lines[..at].contains(line)).count();
    assert_eq!(equal, truth.rows_equal_to_an_earlier_row);
    assert_eq!(truth.doubled[0] + 1, truth.doubled[1]);
    let [one, other] = truth.doubled.map(|line| lines[line as usize - 1]);
    assert!(one == other && one.contains(&format!(",{round},{section},{measure},")));

    let sound = with_outlier();
    assert!(found(&sound, "more-readings-than-planned").is_empty());
    let taken = sound.outcome.readings.cells().iter().map(|cell| cell.taken).sum::<u32>();
    // Colour is made of three readings, which lie in cells of their own.
    assert_eq!(taken, truth.rows_used);
    let [section, round] = &truth.missing;
    assert_eq!(round, "month 3");
    assert_eq!(sound.section("gloss", section, 2).level, Err(Missing::NotRead));
}

/// As other programs write the unit of what has none.
#[test]
fn a_unit_of_one_is_told_by_name() {
    let study = whole(STUDY, &READINGS.replace(",,colour-1", ",1,colour-1"));
    let told = found(&study, "wrong-unit");
    let messages: Vec<&str> = told.iter().map(|one| one.message.split(';').next().unwrap()).collect();
    let of = |letter: &str| format!("`1` stands as the unit of {letter}-star, which has none");
    assert_eq!(messages, [of("l"), of("a"), of("b")]);
    assert!(told.iter().all(|one| one.help == ["leave the place of the unit empty"]), "{told:?}");
}

#[test]
fn the_reading_far_off_is_found_by_the_gauge_and_not_by_the_test_alone() {
    let (truth, with, without) = (truth(), with_outlier(), without_outlier());
    let (tolerance, outlier) = (truth.tolerance, &truth.outlier);
    let code = outlier.section.as_str();
    assert_eq!(outlier.round, "month 3");
    let level = |study: &Whole| study.section("gloss", code, 2).level.unwrap().mean;
    tolerance.near("with", level(&with), outlier.mean_with);
    tolerance.near("without", level(&without), outlier.mean_without);
    tolerance.near("median", median(&outlier.readings).unwrap(), outlier.median);

    let test = grubbs(&outlier.readings).unwrap();
    let limits = [0.05, 0.10].map(|alpha| critical_value(3, alpha).unwrap());
    tolerance.all("Grubbs", [test.statistic, limits[0], limits[1], test.p], outlier.grubbs);
    assert_eq!((test.index, test.statistic > limits[0]), (outlier.place, outlier.reject));

    let far = |study: &Whole| -> Vec<Suspect> {
        let (cells, gloss) = (study.outcome.readings.cells(), study.measure("gloss").measure);
        let marks = study.analysis.outliers.marks.iter().filter(|mark| cells[mark.cell].measure == gloss);
        marks.map(|mark| mark.suspect).collect()
    };
    assert_eq!(far(&with), [Suspect::One(outlier.value)]);
    // Held against the spread without it, four honest cells of 49 are told of, where chance gives 2.5.
    assert!(far(&without).len() == 4 && !far(&without).contains(&Suspect::One(outlier.value)));
    let lines: Vec<u32> =
        found(&whole(STUDY, READINGS), "reading-far-off").iter().map(|one| line(&with, one)).collect();
    assert!(lines.contains(&outlier.line), "{lines:?}");
}

/// The trap that the reference shows: the test alone flags eight cells and not the one that was moved.
#[test]
fn the_test_alone_flags_as_many_cells_as_the_reference_says() {
    let (truth, study) = (truth(), with_outlier());
    let (readings, gloss) = (&study.outcome.readings, study.measure("gloss").measure);
    let cells: Vec<Vec<f64>> = readings
        .cells()
        .iter()
        .filter(|cell| cell.measure == gloss)
        .map(|cell| readings.values(cell))
        .collect();
    assert_eq!(cells.len(), truth.flagged.cells);
    for (&level, &expected) in truth.flagged.levels.iter().zip(&truth.flagged.found) {
        let beyond = |values: &&Vec<f64>| {
            let limit = critical_value(values.len(), level).unwrap();
            grubbs(values).is_some_and(|test| test.statistic > limit)
        };
        assert_eq!(cells.iter().filter(beyond).count(), expected, "{level}");
    }
}

//! Data that cannot carry an answer: each gives a statement, and `Bench::analyse` asserts that no number is NaN.

use crate::bench::{Bench, at, day};
use crate::close;
use tapeline::analysis::{Answer, Compared, Missing, NoTable, Standing, Strength, Word};
use tapeline::study::{Direction, Limit, LogEntry, Reach, Reference, Treatment};
use tapeline::text::Span;

const ROUNDS: [(&str, &str); 3] =
    [("baseline", "2024-01-01"), ("month-6", "2024-07-01"), ("month-12", "2025-01-01")];
const SECTIONS: [(&str, &str); 7] = [
    ("A1", "hop"),
    ("A2", "hop"),
    ("A3", "fig"),
    ("B1", "fig"),
    ("B2", "bare"),
    ("B3", "bare"),
    ("C1", "bare"),
];

fn study() -> Bench {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.means("baseline", &[80.0, 80.5, 81.0, 80.2, 80.1, 80.3, 80.4]);
    bench.means("month-6", &[75.0, 75.8, 74.0, 73.1, 65.0, 66.0, 65.7]);
    bench.means("month-12", &[70.0, 71.1, 69.0, 68.5, 60.0, 61.2, 60.3]);
    bench
}

#[test]
fn nothing_read_and_no_sections_at_all() {
    let bench = Bench::new(&SECTIONS, &ROUNDS);
    let gloss = bench.gloss();
    assert_eq!(gloss.rounds[1].to_bare, Err(NoTable::RoundMissed));
    assert!(gloss.groups.iter().all(|group| group.at.iter().all(|at| at.level.is_none())));
    let empty = Bench::new(&[], &[]);
    assert_eq!(empty.analyse().answer, Answer::NoProducts);
}

#[test]
fn one_and_two_readings_in_a_cell() {
    let mut bench = study();
    bench.rows.retain(|row| !row.contains("month-12,A1"));
    bench.read("month-12", "A1", &[70.0]);
    let cell = bench.cell("month-12", "A1");
    assert_eq!((cell.n, cell.missing, cell.numbers.level.unwrap().sd), (1, 2, None));
    assert!(bench.to_bare("month-12").rows[0].interval.is_some());
}

#[test]
fn all_readings_equal_give_differences_and_no_interval() {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.limits(2.0, 5.0);
    for round in ["baseline", "month-6"] {
        for (section, _) in SECTIONS {
            bench.read(round, section, &[80.1, 80.1, 80.1]);
        }
    }
    let row = bench.to_bare("month-6").rows[0];
    assert_eq!((row.difference, row.interval, row.p), (0.0, None, None));
    assert_eq!(row.word, Err(Strength::NoScatter));
    // Each section lost exactly 2.1 from its own start: what is left between them is the rounding of the subtraction.
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    for (index, (section, _)) in SECTIONS.into_iter().enumerate() {
        let start = 80.1 + 0.7 * index as f64;
        bench.read("baseline", section, &[start]);
        bench.read("month-6", section, &[start - 2.1]);
    }
    assert_eq!(bench.to_bare("month-6").basis.strength, Strength::NoScatter);
    assert_eq!(bench.lead("month-6").may_lead, Err(Strength::NoScatter));
}

#[test]
fn one_product_leads_nobody() {
    let mut bench = study();
    bench.study.sections[2].treatment = Treatment::CarrierOnly;
    bench.study.sections[3].treatment = Treatment::CarrierOnly;
    let gloss = bench.gloss();
    assert_eq!(gloss.rounds[1].lead, Err(NoTable::OneProduct));
    let table = gloss.rounds[1].to_bare.as_ref().unwrap();
    let rows: Vec<Treatment> = table.rows.iter().map(|row| row.treatment).collect();
    assert_eq!(rows, [Treatment::Product(bench.product_id("hop")), Treatment::CarrierOnly]);
    assert!(matches!(bench.analyse().answer, Answer::Read { standing: Standing::OneProduct, .. }));
}

#[test]
fn bare_sections_that_lack_the_round() {
    let mut bench = study();
    bench.rows.retain(|row| !["B2", "B3", "C1"].iter().any(|bare| row.contains(&format!("month-12,{bare}"))));
    let gloss = bench.gloss();
    assert_eq!(gloss.rounds[2].to_bare, Err(NoTable::BareNotRead));
    assert!(gloss.rounds[2].lead.is_ok() && gloss.rounds[2].bare_change.is_none());
}

#[test]
fn a_product_lost_half_way_is_named_and_the_others_go_on() {
    let mut bench = study();
    bench.rows.retain(|row| !(row.contains("month-12,A3") || row.contains("month-12,B1")));
    let lost = ["A3", "B1"].map(|code| bench.section_id(code));
    bench.study.log.push(LogEntry {
        date: at(day("2024-10-10")),
        reach: Reach::Sections(lost.to_vec()),
        text: "chipped".into(),
        ends: true,
        span: Span::default(),
    });
    let fig = Treatment::Product(bench.product_id("fig"));
    let table = bench.to_bare("month-12");
    assert_eq!((table.absent.as_slice(), table.rows.len()), (&[fig][..], 1));
    let gloss = bench.gloss();
    let group = gloss.group(fig).unwrap();
    assert_eq!(group.at[2].lacking, lost.map(|section| (section, Missing::Ended)));
    assert_eq!((group.at[2].level, group.at[1].level.map(|level| level.n)), (None, Some(2)));
    assert_eq!(gloss.rounds[2].lead, Err(NoTable::OneProduct));
}

#[test]
fn a_missed_round_leaves_the_others_as_they_are() {
    let whole = study().to_bare("month-12");
    let mut bench = study();
    bench.rows.retain(|row| !row.contains("month-6"));
    assert_eq!(bench.to_bare("month-12"), whole);
    assert_eq!(bench.gloss().rounds[1].to_bare, Err(NoTable::RoundMissed));
    assert_eq!(bench.cell("month-6", "A1").numbers.level, Err(Missing::RoundMissed));
    assert_eq!(bench.cell("month-6", "A1").missing, 3);
}

#[test]
fn a_section_without_a_baseline_has_a_level_and_no_change() {
    let mut bench = study();
    bench.rows.retain(|row| !row.contains("baseline,A1"));
    let cell = bench.cell("month-12", "A1").numbers;
    assert!(cell.level.is_ok());
    assert_eq!((cell.change, cell.retention), (Err(Missing::NoReference), Err(Missing::NoReference)));
    let hop = Treatment::Product(bench.product_id("hop"));
    let at = bench.gloss().group(hop).unwrap().at[2].clone();
    assert_eq!((at.level.unwrap().n, at.change.unwrap().n), (2, 1));
    assert_eq!(at.lacking_change, [(bench.section_id("A1"), Missing::NoReference)]);
    assert_eq!(bench.to_bare("month-12").rows[0].n, 1);
}

#[test]
fn readings_below_the_gauge_and_left_out_cells_have_no_mean() {
    let mut bench = study();
    bench.rows.push("2025-01-01,month-12,A1,gloss,<0.5,GU".into());
    assert_eq!(bench.cell("month-12", "A1").numbers.level, Err(Missing::BelowGauge));
    let mut bench = study();
    bench.rows.retain(|row| !row.contains("month-12,A1"));
    bench.read("month-12", "A1", &[12.5]);
    bench.leave_out("month-12", "A1", 12.5);
    let cell = bench.cell("month-12", "A1");
    assert_eq!(cell.numbers.level, Err(Missing::AllLeftOut));
    assert!(close(cell.with_left_out.unwrap().level.unwrap().mean, 12.5, 0.0));
}

#[test]
fn a_reference_of_zero_has_no_share() {
    let mut bench = study();
    bench.rows.retain(|row| !row.contains("baseline,A1"));
    bench.read("baseline", "A1", &[0.0, 0.0, 0.0]);
    let numbers = bench.cell("month-6", "A1").numbers;
    assert_eq!(numbers.retention, Err(Missing::NoShare));
    assert!(close(numbers.change.unwrap().value, 75.0, 1e-12));
}

/// Readings of 0.1, 0.5 and 0.9 have a mean of 0.5 with a standard uncertainty of 0.4 / sqrt(3) = 0.231, so that 0 is 2.2 of them away;
/// with 1.1, 1.5 and 1.9 it is 6.5.
#[test]
fn a_reference_next_to_zero_has_no_share_and_no_limit_in_percent() {
    let numbers = |readings: &[f64]| {
        let mut bench = study();
        bench.rows.retain(|row| !row.contains("baseline,A1"));
        bench.read("baseline", "A1", readings);
        bench.spent_below(Limit::PercentOf(80.0, Reference::Baseline));
        let limit = bench.gloss().spent.unwrap()[0].limit;
        (bench.cell("month-6", "A1").numbers.retention.map(|share| share.value), limit)
    };
    assert_eq!(numbers(&[0.1, 0.5, 0.9]), (Err(Missing::NearZero), Err(Missing::NearZero)));
    let (share, limit) = numbers(&[1.1, 1.5, 1.9]);
    assert!(close(share.unwrap(), 5000.0, 1e-12) && close(limit.unwrap(), 1.2, 1e-12));
}

#[test]
fn a_measure_without_direction_or_without_its_reference() {
    let mut bench = study();
    bench.study.measures[0].direction = Direction::Neither;
    assert_eq!(bench.gloss().rounds[1].lead, Err(NoTable::NoDirection));
    let mut bench = study();
    bench.study.measures[0].change_from = tapeline::study::Reference::Fresh;
    let gloss = bench.gloss();
    // Without a reference levels are compared, on the coat only.
    assert_eq!((gloss.reference, gloss.compared), (None, Compared::Level));
    assert_eq!(gloss.rounds[0].to_bare, Err(NoTable::UpToReference));
    assert!(gloss.rounds[1].to_bare.is_ok() && matches!(bench.analyse().answer, Answer::Read { .. }));
    bench.decide("baseline");
    assert_eq!(bench.analyse().answer, Answer::NoChange);
}

#[test]
fn a_section_below_the_gauge_takes_the_words_that_its_absence_flatters() {
    let sections = [
        ("A1", "hop"),
        ("A2", "hop"),
        ("A3", "fig"),
        ("A4", "fig"),
        ("A5", "bare"),
        ("A6", "bare"),
        ("A7", "bare"),
    ];
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("end", "2024-07-01")]);
    bench.decide("end");
    bench.means("baseline", &[80.0; 7]);
    for (code, mean) in [("A2", 75.0), ("A3", 70.0), ("A4", 70.5), ("A5", 60.0), ("A6", 60.5), ("A7", 60.2)] {
        bench.read("end", code, &[mean - 0.5, mean + 0.5]);
    }
    bench.rows.push("2024-07-01,end,A1,gloss,<0.5,GU".into());
    let words = |bench: &Bench| bench.to_bare("end").rows.iter().map(|row| row.word).collect::<Vec<_>>();
    assert_eq!(words(&bench), [Err(Strength::Bound), Ok(Word::Measurable)]);
    // Lower is better: hop is worse than bare by its other section, and the one left out would be better.
    bench.study.measures[0].direction = Direction::Lower;
    assert_eq!(words(&bench)[0], Err(Strength::Bound));
}

/// (1e300)^2 is no number: the section drops out with its reason, and the others are still judged.
#[test]
fn a_reading_whose_square_overflows_does_not_hide_that_sections_are_treated_alike() {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.means("baseline", &[80.0; 7]);
    bench.means("month-6", &[f64::NAN, 75.0, 70.0, 70.5, 60.0, 60.5, 60.2]);
    bench.rows.retain(|row| !row.contains("NaN"));
    bench.read("month-6", "A1", &[1e300]);
    assert_eq!(bench.cell("month-6", "A1").numbers.level, Err(Missing::TooLarge));
    let table = bench.to_bare("month-6");
    assert_eq!(table.basis.strength, Strength::Full);
    assert_eq!(table.rows[0].n, 1);
}

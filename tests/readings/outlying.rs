//! The rule for readings that stand apart: Grubbs and the gauge's limit together, by hand-worked cells.

use super::study::{gauge, leave_out, study};
use super::{cell, read_bytes};
use std::fmt::Write;
use tapeline::readings::{Evidence, LimitFrom, Mark, Outliers, Readings, Suspect, outliers};
use tapeline::study::{Gauge, Study};

fn with(gauges: Vec<Gauge>) -> Study {
    Study { gauges, ..study() }
}

/// Gloss of A1, A2 and so on at month 6.
fn marks(study: &Study, cells: &[&[f64]]) -> (Readings, Outliers) {
    let mut text = String::from("date,round,section,measure,value\n");
    for (place, values) in cells.iter().enumerate() {
        for value in *values {
            writeln!(text, "2026-09-03,month 6,A{},gloss-20,{value}", place + 1).unwrap();
        }
    }
    let (readings, findings) = read_bytes(study, text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    let found = outliers(study, &readings);
    (readings, found)
}

fn only(study: &Study, values: &[f64]) -> Option<Mark> {
    let (_, found) = marks(study, &[values]);
    assert!(found.marks.len() < 2);
    found.marks.first().copied()
}

#[test]
fn four_or_more_need_the_test_and_the_gauge() {
    let study = with(vec![gauge("glossy", 0, 0.4, "GU")]);
    // Mean 80.62, sd 1.275, statistic 2.276/1.275 = 1.785 above 1.715 (n = 5, 5 % two-sided, Grubbs 1969).
    let mark = only(&study, &[80.0, 80.1, 80.0, 80.1, 82.9]).unwrap();
    assert_eq!((mark.suspect, mark.evidence), (Suspect::One(82.9), Evidence::Finding));
    assert!((mark.distance - 2.85).abs() < 1e-9, "{}", mark.distance);
    assert_eq!(mark.limit, Some((0.4, LimitFrom::Declared)));
    let (statistic, critical) = mark.grubbs.unwrap();
    assert!((critical - 1.715).abs() < 5e-4 && statistic > critical, "{statistic} {critical}");
    // The same shape ten times smaller: unusual, yet the gauge gives such distances by itself.
    let mark = only(&study, &[80.0, 80.01, 80.0, 80.01, 80.29]).unwrap();
    assert_eq!((mark.suspect, mark.evidence), (Suspect::One(80.29), Evidence::TestOnly));
    // Far beyond the gauge's limit, and not unusual among scattered readings.
    assert_eq!(only(&study, &[70.0, 75.0, 80.0, 85.0, 90.0]), None);
}

#[test]
fn three_readings_are_held_against_the_gauge_only() {
    let study = with(vec![gauge("glossy", 0, 0.4, "GU")]);
    // Two equal readings and a neighbour always fail Grubbs' test; here the gauge decides.
    assert_eq!(only(&study, &[80.0, 80.0, 80.3]), None);
    let mark = only(&study, &[80.0, 80.0, 81.0]).unwrap();
    assert_eq!((mark.suspect, mark.evidence, mark.grubbs), (Suspect::One(81.0), Evidence::Finding, None));
    assert!((mark.distance - 1.0).abs() < 1e-9);
    let mark = only(&study, &[79.0, 80.0, 80.1]).unwrap();
    assert_eq!(mark.suspect, Suspect::One(79.0));
    // A range above the limit in which no reading is farther than that from the median of the others.
    assert_eq!(only(&study, &[80.0, 80.25, 80.5]), None);
}

#[test]
fn two_readings_are_a_pair_and_one_is_none() {
    let study = with(vec![gauge("glossy", 0, 0.4, "GU")]);
    assert_eq!(only(&study, &[80.0]), None);
    assert_eq!(only(&study, &[80.0, 80.4]), None);
    let mark = only(&study, &[80.5, 80.0]).unwrap();
    assert_eq!((mark.suspect, mark.evidence), (Suspect::Pair(80.0, 80.5), Evidence::Finding));
}

#[test]
fn without_a_declared_spread_the_spread_within_cells_gives_the_limit() {
    let (_, found) = marks(&study(), &[&[80.0, 80.1, 80.2], &[70.0, 70.2], &[60.0]]);
    assert!(found.marks.is_empty(), "{found:?}");
    let (_, found) = marks(&study(), &[&[80.0, 80.1, 80.2], &[70.0, 70.1, 70.2], &[60.0, 61.0]]);
    // Variances 0.01 (2), 0.01 (2) and 0.5 (1): 0.54 over 5.
    let [mark] = found.marks[..] else { panic!("{found:?}") };
    let Some((limit, LimitFrom::Pooled { spread, df })) = mark.limit else { panic!("{mark:?}") };
    assert_eq!(df, 5);
    assert!((spread - (0.54_f64 / 5.0).sqrt()).abs() < 1e-9);
    assert!((limit - 2.8 * spread).abs() < 1e-12);
    assert_eq!((mark.cell, mark.suspect), (2, Suspect::Pair(60.0, 61.0)));
}

#[test]
fn the_widest_declared_limit_counts_and_is_turned_into_the_unit_of_the_measure() {
    let study =
        with(vec![gauge("one", 0, 0.4, "GU"), gauge("two", 0, 1.2, "GU"), gauge("eddy", 1, 0.1, "mil")]);
    assert_eq!(only(&study, &[80.0, 81.0]), None);
    let text =
        "date,round,section,measure,value\n2026-09-03,month 6,A1,film,60\n2026-09-03,month 6,A1,film,63\n";
    let (readings, _) = read_bytes(&study, text.as_bytes());
    let [mark] = outliers(&study, &readings).marks[..] else { panic!("one mark") };
    assert!((mark.limit.unwrap().0 - 2.54).abs() < 1e-12);
}

#[test]
fn readings_left_out_take_no_part() {
    let mut own = with(vec![gauge("glossy", 0, 0.4, "GU")]);
    own.readings[0].leave_out = vec![leave_out(None, Some(82.9))];
    let (readings, found) = marks(&own, &[&[80.0, 80.1, 80.0, 80.1, 82.9]]);
    assert_eq!(cell(&readings, 0, 2, 0).left_out, 1);
    assert!(found.marks.is_empty(), "{found:?}");
    assert_eq!((found.tested, found.by_chance), (1, 0.05));
}

#[test]
fn chance_marks_about_one_cell_in_twenty() {
    // Sums of twelve even numbers are close to normal; the seed is fixed, so the count is too.
    let mut state = 88_172_645_463_325_252_u64;
    let mut even = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut text = String::from("date,round,section,measure,value\n");
    let mut own = study();
    own.rounds = (0..250).map(|week| super::study::round(&format!("week {week}"), 2, 5)).collect();
    for week in 0..250 {
        for section in 0..8 {
            for _ in 0..5 {
                let value: f64 = 74.0 + (0..12).map(|_| even()).sum::<f64>();
                let code = format!("{}{}", ['A', 'B'][section / 4], section % 4 + 1);
                writeln!(text, "2026-09-03,week {week},{code},gloss-20,{value:.6}").unwrap();
            }
        }
    }
    let (readings, _) = read_bytes(&own, text.as_bytes());
    let found = outliers(&own, &readings);
    assert_eq!((found.tested, found.by_chance), (2000, 100.0));
    // 100 expected, standard deviation 9.7.
    assert!((71..=129).contains(&found.marks.len()), "{}", found.marks.len());
}

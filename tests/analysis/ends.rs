//! Floor and ceiling: where every compared section sits at an end of its scale there is no word.

use crate::bench::Bench;
use tapeline::analysis::{AtEnd, End, NoTable, Strength, Word};

const ROUNDS: [(&str, &str); 2] = [("baseline", "2024-01-01"), ("month-6", "2024-07-01")];
const SECTIONS: [(&str, &str); 8] = [
    ("A1", "hop"),
    ("A2", "hop"),
    ("A3", "fig"),
    ("A4", "fig"),
    ("B1", "rue"),
    ("B2", "rue"),
    ("B3", "bare"),
    ("B4", "bare"),
];

/// Shares in percent of what can be 0 to 100; each section is read twice, 0.2 apart.
fn study(now: [f64; 8]) -> Bench {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.study.measures[0].possible = Some((0.0, 100.0));
    for (round, means) in [("baseline", [50.0; 8]), ("month-6", now)] {
        for ((code, _), mean) in SECTIONS.iter().zip(means) {
            bench.read(round, code, &[mean - 0.1, mean + 0.1]);
        }
    }
    bench
}

#[test]
fn products_at_the_ceiling_are_told_from_bare_and_not_from_each_other() {
    let bench = study([99.9, 99.8, 99.85, 99.9, 99.87, 99.8, 60.0, 61.0]);
    let analysis = bench.analyse();
    let round = &analysis.measures[0].rounds[1];
    assert_eq!(round.at_end, Some(AtEnd { end: End::Highest, n: 6, of: 8 }));
    let to_bare = round.to_bare.as_ref().unwrap();
    assert!(to_bare.rows.iter().all(|row| row.word.is_ok() && row.interval.is_some()));
    let lead = round.lead.as_ref().unwrap();
    assert_eq!(lead.may_lead, Err(Strength::AtEnd));
    assert!(lead.rows.iter().all(|row| row.interval.is_none()));
    let pairs = analysis.between.unwrap().unwrap();
    assert!(pairs.rows.iter().all(|row| row.word == Err(Strength::AtEnd) && row.p.is_none()));
    assert_eq!(analysis.chances, Some(Err(Strength::AtEnd)));
}

#[test]
fn all_at_the_floor_have_no_word_at_all() {
    let analysis = study([0.1, 0.15, 0.1, 0.12, 0.11, 0.1, 0.14, 0.1]).analyse();
    let round = &analysis.measures[0].rounds[1];
    assert_eq!(round.at_end, Some(AtEnd { end: End::Lowest, n: 8, of: 8 }));
    let rows = &round.to_bare.as_ref().unwrap().rows;
    assert!(rows.iter().all(|row| row.word == Err(Strength::AtEnd) && row.interval.is_none()));
}

#[test]
fn one_section_off_the_end_keeps_the_words_of_its_comparison() {
    let analysis = study([99.9, 99.8, 99.85, 99.9, 99.87, 98.0, 60.0, 61.0]).analyse();
    let round = &analysis.measures[0].rounds[1];
    assert_eq!(round.at_end.map(|at| at.n), Some(5));
    assert!(round.lead.as_ref().unwrap().may_lead.is_ok());
}

#[test]
fn a_scale_without_ends_and_fewer_than_half_say_nothing() {
    let now = [99.9, 99.8, 99.85, 70.0, 71.0, 72.0, 60.0, 61.0];
    assert_eq!(study(now).gloss().rounds[1].at_end, None);
    let mut open = study([99.9; 8]);
    open.study.measures[0].possible = None;
    assert_eq!(open.gloss().rounds[1].at_end, None);
    assert_eq!(open.gloss().rounds[0].to_bare.as_ref().err(), Some(&NoTable::UpToReference));
}

#[test]
fn two_treatments_at_the_floor_have_no_word_and_the_others_keep_theirs() {
    let mut bench = study([80.0, 80.2, 70.0, 70.2, 0.1, 0.12, 0.11, 0.1]);
    bench.study.measures[0].alike = Some(crate::bench::at(2.0));
    let round = &bench.analyse().measures[0].rounds[1];
    let words: Vec<_> = round.to_bare.as_ref().unwrap().rows.iter().map(|row| row.word).collect();
    assert_eq!(words, [Ok(Word::Measurable), Ok(Word::Measurable), Err(Strength::AtEnd)]);
    assert!(round.to_bare.as_ref().unwrap().rows[2].interval.is_none());
    // One section off the floor, and they can be told again.
    let off = study([80.0, 80.2, 70.0, 70.2, 0.1, 1.0, 0.11, 0.1]);
    assert!(off.to_bare("month-6").rows[2].word.is_ok());
}

#[test]
fn two_products_at_the_ceiling_are_no_pair_and_not_all_alike() {
    let mut bench = study([99.9, 99.8, 99.85, 99.9, 99.0, 98.9, 60.0, 60.2]);
    bench.study.measures[0].alike = Some(crate::bench::at(5.0));
    bench.decide("month-6");
    let analysis = bench.analyse();
    assert_eq!(analysis.measures[0].rounds[1].lead.as_ref().unwrap().all_alike, None);
    let words: Vec<_> = analysis.between.unwrap().unwrap().rows.iter().map(|row| row.word).collect();
    assert_eq!(words, [Err(Strength::AtEnd), Ok(Word::Alike), Ok(Word::Alike)]);
}

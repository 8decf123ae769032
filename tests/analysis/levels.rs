//! A measure that no round read from which a change could count: its levels are compared, as changes are elsewhere.

use crate::bench::Bench;
use crate::close;
use tapeline::analysis::{Answer, Compared, NoTable, Role, RoundAnalysis, Standing, Word};
use tapeline::study::Treatment;

/// Blood counts of animals on two drugs and on none (Dunnett 1955, Journal of the American Statistical Association 50,
/// 1096-1121, the example with unequal numbers), taken for pull-off strengths that were read once, at the end.
const NONE: [f64; 6] = [7.40, 8.50, 7.20, 8.24, 9.84, 8.32];
const FIRST: [f64; 4] = [9.76, 8.80, 7.68, 9.36];
const SECOND: [f64; 5] = [12.80, 9.68, 12.16, 9.20, 10.55];

/// Gloss from baseline to the end decides; grip is read at the end only.
fn bench() -> Bench {
    let treatments = [("fig", FIRST.as_slice()), ("hop", &SECOND), ("bare", &NONE)];
    let carries = treatments.iter().flat_map(|(name, values)| values.iter().map(move |_| *name));
    let coded: Vec<(String, &str)> =
        carries.enumerate().map(|(n, name)| (format!("A{}", n + 1), name)).collect();
    let sections: Vec<(&str, &str)> = coded.iter().map(|(code, name)| (code.as_str(), *name)).collect();
    let mut bench = Bench::new(&sections, &[("baseline", "2024-01-01"), ("end", "2024-07-01")]);
    bench.decide("end");
    bench.means("baseline", &[80.0; 15]);
    let ends: Vec<f64> = (0..15_u8).map(|n| 70.0 + f64::from(n % 4)).collect();
    bench.means("end", &ends);
    let grip = bench.measure("grip");
    bench.study.rounds[0].reads.retain(|read| read.measure.value != grip);
    let values = FIRST.iter().chain(&SECOND).chain(&NONE);
    for ((code, _), value) in coded.iter().zip(values) {
        bench.read_as("grip", "end", code, &[*value]);
    }
    bench
}

fn grip(bench: &Bench) -> RoundAnalysis {
    let grip = bench.analyse().measures.remove(1);
    assert_eq!((grip.compared, grip.reference), (Compared::Level, None));
    grip.round(bench.round_id("end")).unwrap().clone()
}

/// Critical value, intervals and p values by quadrature of the integral with `scipy` 1.17.1, whose own `dunnett`
/// gives p 0.6201 and 0.0058 as well; the pair by its t distribution, which for two products is Tukey's.
#[test]
fn levels_stand_against_bare_and_against_each_other_as_published_data_do() {
    let bench = bench();
    let round = grip(&bench);
    assert_eq!(round.role, Role::FurtherLook);
    let table = round.to_bare.unwrap();
    assert!(close(table.critical.unwrap(), 2.513_482_904, 1e-7));
    let spread = table.basis.spread.unwrap();
    assert!(close(spread.sd, 1.174_956_736_8, 1e-9) && close(spread.df, 12.0, 0.0));
    let expected = [
        ("fig", 4, 0.65, -1.256_304_137, 2.556_304_137, 0.620_101_98),
        ("hop", 5, 2.628, 0.839_728_206, 4.416_271_794, 0.005_825_36),
    ];
    for (row, (name, n, difference, low, high, p)) in table.rows.iter().zip(expected) {
        assert_eq!(row.treatment, Treatment::Product(bench.product_id(name)));
        assert_eq!((row.n, row.readings), (n, u32::try_from(n).unwrap()));
        let interval = row.interval.unwrap();
        assert!(close(row.difference, difference, 1e-9));
        assert!(close(interval.low, low, 1e-7) && close(interval.high, high, 1e-7), "{row:?}");
        assert!(close(row.p.unwrap(), p, 1e-6), "{row:?}");
    }
    let pairs = round.pairs.unwrap();
    let [pair] = pairs.rows.as_slice() else { panic!("{pairs:?}") };
    let interval = pair.interval.unwrap();
    assert!(close(pair.difference, -1.978, 1e-9) && close(pair.p.unwrap(), 0.027_429_792, 1e-6));
    assert!(close(interval.low, -3.695_307_46, 1e-6) && close(interval.high, -0.260_692_54, 1e-6));
    assert_eq!(pair.word, Ok(Word::Measurable));
}

/// Holm (1979) by hand: the smallest of three p values times 3, the next times 2, the largest as it is.
#[test]
fn their_p_values_are_among_the_further_looks() {
    let bench = bench();
    let analysis = bench.analyse();
    assert_eq!(analysis.further_looks, 3);
    let round = grip(&bench);
    let rows = round.to_bare.unwrap().rows;
    assert!(close(rows[1].p_holm.unwrap(), 3.0 * 0.005_825_36, 1e-6));
    assert!(close(round.pairs.unwrap().rows[0].p_holm.unwrap(), 2.0 * 0.027_429_792, 1e-6));
    assert!(close(rows[0].p_holm.unwrap(), 0.620_101_98, 1e-6));
}

#[test]
fn a_study_that_decides_by_such_a_measure_is_answered_by_its_levels() {
    let mut bench = bench();
    bench.study.decide.as_mut().unwrap().measure = Some(tapeline::study::MeasureId::new(1));
    let analysis = bench.analyse();
    let Answer::Read { standing, .. } = &analysis.answer else { panic!("{:?}", analysis.answer) };
    assert_eq!(standing, &Standing::OneLeader(bench.product_id("hop")));
    assert_eq!(analysis.between.unwrap().unwrap().rows.len(), 1);
    // Its pairs stand in the table of the round that is shown, and in no other.
    assert_eq!(analysis.measures[1].rounds.iter().filter(|round| round.pairs.is_some()).count(), 0);
}

#[test]
fn a_level_before_the_coat_is_compared_with_nothing() {
    let mut bench = bench();
    bench.study.apply.as_mut().unwrap().on = Some(crate::bench::at(crate::bench::day("2024-08-01")));
    let round = grip(&bench);
    assert_eq!((round.role, round.to_bare), (Role::UpToReference, Err(NoTable::UpToReference)));
    assert_eq!(round.pairs, None);
}

#[test]
fn a_change_is_never_left_for_a_level() {
    let mut bench = bench();
    bench.study.decide = None;
    let question = bench.analyse().question.unwrap();
    assert_eq!(question.measure, tapeline::study::MeasureId::new(0));
    // With the measure of the changes gone, levels are what is left to answer by.
    bench.study.measures[0].change_from = tapeline::study::Reference::Fresh;
    let analysis = bench.analyse();
    assert_eq!(analysis.measures[0].compared, Compared::Level);
    assert_eq!(analysis.question.unwrap().measure, tapeline::study::MeasureId::new(0));
}

/// Of levels the report shows the pairs of the last round read only: those of an earlier one are no look of anybody.
#[test]
fn pairs_that_no_table_shows_are_not_counted_among_the_looks() {
    let mut bench = bench();
    bench.study.rounds.insert(1, crate::bench::round("middle", "2024-04-01"));
    let (gloss, grip) = (tapeline::study::MeasureId::new(0), tapeline::study::MeasureId::new(1));
    let reads = tapeline::study::ReadPlan { measure: crate::bench::at(grip), times: 3 };
    bench.study.rounds[1].reads = vec![reads];
    bench.decide("end");
    for (n, value) in FIRST.iter().chain(&SECOND).chain(&NONE).enumerate() {
        bench.read_as("grip", "middle", &format!("A{}", n + 1), &[value + 1.0]);
    }
    let analysis = bench.analyse();
    let pairs = |round: &RoundAnalysis| round.pairs.as_ref().map_or(0, |table| table.rows.len());
    assert_eq!(analysis.measures[1].rounds.iter().map(pairs).collect::<Vec<_>>(), [0, 1]);
    // Two differences to bare at each of the two rounds, and one pair.
    assert_eq!(analysis.further_looks, 5);
    // A question by levels whose round was missed is shown by the last one read, whose pairs stand there in full.
    bench.study.decide.as_mut().unwrap().measure = Some(grip);
    bench.rows.retain(|row| !row.contains("end") || row.contains("gloss"));
    let analysis = bench.analyse();
    assert_eq!(analysis.between.unwrap().unwrap().rows.len(), 1);
    assert_eq!(analysis.measures[1].rounds.iter().map(pairs).sum::<usize>(), 0);
    // Two rows by gloss at the end, two by grip in the middle.
    assert_eq!((analysis.further_looks, analysis.measures[0].measure), (4, gloss));
}

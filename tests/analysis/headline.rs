//! The headline for each case that a report words.

use crate::bench::{Bench, day};
use tapeline::analysis::{Against, Answer, Question, RoundState, Standing, Strength, Word};
use tapeline::stats::GroupMean;
use tapeline::stats::dunnett::against_control;
use tapeline::stats::solved::Solved;
use tapeline::study::MeasureId;

const ROUNDS: [(&str, &str); 3] =
    [("baseline", "2024-01-01"), ("month-6", "2024-07-01"), ("month-12", "2025-01-01")];
const SECTIONS: [(&str, &str); 9] = [
    ("A1", "hop"),
    ("A2", "hop"),
    ("A3", "fig"),
    ("B1", "fig"),
    ("B2", "rue"),
    ("B3", "rue"),
    ("C1", "bare"),
    ("C2", "bare"),
    ("C3", "bare"),
];

/// Three products on two sections each and three bare ones; `month_12` are the levels at the deciding round.
fn study(month_12: &[f64]) -> Bench {
    let mut bench = Bench::new(&SECTIONS, &ROUNDS);
    bench.limits(3.0, 6.0);
    bench.decide("month-12");
    bench.means("baseline", &[80.0; 9]);
    bench.means("month-6", &[75.0, 75.5, 75.0, 75.5, 75.0, 75.5, 70.0, 70.5, 70.2]);
    bench.means("month-12", month_12);
    bench
}

fn standing(bench: &Bench) -> Standing {
    match bench.analyse().answer {
        Answer::Read { standing, .. } => standing,
        other => panic!("{other:?}"),
    }
}

fn against_bare(bench: &Bench) -> Against {
    match bench.analyse().answer {
        Answer::Read { against_bare, .. } => against_bare,
        other => panic!("{other:?}"),
    }
}

#[test]
fn one_leader() {
    let bench = study(&[75.0, 75.4, 62.0, 62.4, 61.0, 61.4, 50.0, 50.4, 50.2]);
    assert_eq!(standing(&bench), Standing::OneLeader(bench.product_id("hop")));
    let all = ["hop", "fig", "rue"].map(|name| bench.product_id(name)).to_vec();
    let told = Against::Told { better: all, worse: vec![], different: vec![] };
    assert_eq!(against_bare(&bench), told);
}

#[test]
fn several_may_lead() {
    let bench = study(&[75.0, 78.0, 74.0, 77.0, 51.0, 52.0, 50.0, 52.0, 51.0]);
    let ahead = ["hop", "fig"].map(|name| bench.product_id(name)).to_vec();
    assert_eq!(standing(&bench), Standing::SeveralMayLead(ahead));
}

#[test]
fn all_alike_is_an_equivalence_and_none_separable_is_not() {
    let alike = study(&[60.0, 60.2, 60.1, 60.3, 60.2, 60.0, 60.1, 60.3, 60.2]);
    assert_eq!(standing(&alike), Standing::AllAlike);
    assert_eq!(against_bare(&alike), Against::AllAlike);
    let wide = study(&[60.0, 70.0, 61.0, 69.0, 62.0, 70.0, 58.0, 68.0, 63.0]);
    assert_eq!(standing(&wide), Standing::NoneSeparable);
    assert_eq!(against_bare(&wide), Against::NoneToldApart);
}

#[test]
fn a_product_worse_than_bare_is_said_to_be() {
    let bench = study(&[75.0, 75.4, 62.0, 62.4, 40.0, 40.4, 62.0, 62.4, 62.2]);
    let Against::Told { better, worse, .. } = against_bare(&bench) else { panic!() };
    assert_eq!((better, worse), (vec![bench.product_id("hop")], vec![bench.product_id("rue")]));
}

#[test]
fn no_bare_sections_leave_the_leader_and_no_difference() {
    let mut bench = study(&[75.0, 75.4, 62.0, 62.4, 61.0, 61.4]);
    bench.study.sections.truncate(6);
    bench.rows.retain(|row| !row.contains(",C"));
    assert_eq!(standing(&bench), Standing::OneLeader(bench.product_id("hop")));
    assert_eq!(against_bare(&bench), Against::NoControl);
}

#[test]
fn unfinished_and_missed_depend_on_the_day() {
    let mut bench = study(&[]);
    bench.as_of = day("2024-12-31");
    let latest = Some(bench.round_id("month-6"));
    assert_eq!(bench.analyse().answer, Answer::Unfinished { latest });
    // The window ends on the first of January: on that day the round can still be read.
    bench.as_of = day("2025-01-01");
    assert_eq!(bench.analyse().answer, Answer::Unfinished { latest });
    bench.as_of = day("2025-01-02");
    assert_eq!(bench.analyse().answer, Answer::Missed { latest });
}

#[test]
fn a_day_knows_nothing_of_readings_that_came_later() {
    let mut bench = study(&[75.0, 75.4, 62.0, 62.4, 61.0, 61.4, 50.0, 50.4, 50.2]);
    bench.as_of = day("2024-02-01");
    let gloss = bench.gloss();
    assert_eq!(gloss.rounds[1].state, RoundState::ToCome);
    assert!(gloss.sections.iter().all(|section| section.at[1].numbers.level.is_err()));
}

#[test]
fn a_round_is_missed_where_a_later_one_was_read() {
    let mut bench = study(&[75.0, 75.4, 62.0, 62.4, 61.0, 61.4, 50.0, 50.4, 50.2]);
    bench.rows.retain(|row| !row.contains("month-6"));
    bench.as_of = day("2025-01-01");
    let gloss = bench.gloss();
    assert_eq!(gloss.rounds[1].state, RoundState::Missed);
    bench.decide("month-6");
    assert_eq!(bench.analyse().answer, Answer::Missed { latest: Some(bench.round_id("month-12")) });
}

#[test]
fn without_decide_the_last_round_read_is_the_question() {
    let mut bench = study(&[]);
    bench.study.decide = None;
    bench.as_of = day("2024-08-01");
    let round = bench.round_id("month-6");
    let question = Question { measure: MeasureId::new(0), round, declared: false };
    assert_eq!(bench.analyse().question, Some(question));
    assert_eq!(bench.analyse().further_looks, 3);
}

#[test]
fn without_decide_a_product_is_told_apart_only_where_all_looks_carry_it() {
    // Against bare at month-12, p values of 0.024, 0.32 and 0.58 (scipy 1.17, scipy.stats.dunnett); those of month-6 lie
    // far below, so that Holm takes the smallest of these three times.
    let mut bench = study(&[64.0, 67.6, 60.0, 63.0, 59.0, 62.0, 57.0, 60.0, 58.2]);
    let hop = bench.product_id("hop");
    let told = Against::Told { better: vec![hop], worse: vec![], different: vec![] };
    assert_eq!(against_bare(&bench), told);
    let row = bench.to_bare("month-12").rows[0];
    assert!((row.p.unwrap() - 0.024).abs() < 1e-3, "{row:?}");
    assert_eq!((row.word, row.over_all, row.p_holm), (Ok(Word::Measurable), None, None));
    bench.study.decide = None;
    assert_eq!(against_bare(&bench), Against::NoneToldApart);
    let row = bench.to_bare("month-12").rows[0];
    assert!((row.p_holm.unwrap() - 3.0 * row.p.unwrap()).abs() < 1e-12, "{row:?}");
    assert_eq!((row.word, row.over_all), (Ok(Word::Measurable), Some(Word::NotSettled)));
    // The round that is not shown in full keeps the word of its own interval alone.
    assert!(bench.to_bare("month-6").rows.iter().all(|row| row.over_all.is_none()));
}

#[test]
fn alike_and_seen_over_all_looks_are_the_words_of_a_wider_interval() {
    let months = [
        [75.0, 75.4, 50.1, 50.3, 40.0, 40.4, 50.0, 50.4, 50.2],
        [60.0, 60.4, 57.5, 57.9, 52.3, 52.7, 50.0, 50.4, 50.2],
        [58.4, 58.8, 51.0, 51.4, 53.1, 53.5, 50.0, 50.4, 50.2],
    ];
    let mut words = Vec::new();
    for month in months {
        let mut bench = study(&month);
        bench.study.decide = None;
        let looks = bench.analyse().further_looks as f64;
        let table = bench.to_bare("month-12");
        let groups: Vec<GroupMean> =
            table.rows.iter().map(|row| GroupMean { mean: row.change, n: row.n }).collect();
        let control = GroupMean { mean: table.control.mean, n: table.control.n };
        let spread = table.basis.spread.unwrap();
        let wide =
            against_control(&groups, control, spread, 1.0 - 0.05 / looks, &mut Solved::default()).unwrap();
        for (row, wide) in table.rows.iter().zip(wide) {
            let alike = wide.low >= -3.0 && wide.high <= 3.0;
            let seen = wide.low >= 6.0 || wide.high <= -6.0;
            assert_eq!(row.over_all == Some(Word::Alike), alike, "{row:?} {wide:?}");
            assert_eq!(row.over_all == Some(Word::Seen), seen, "{row:?} {wide:?}");
            words.push(row.over_all.unwrap());
        }
    }
    for word in [Word::Alike, Word::Seen, Word::Measurable] {
        assert!(words.contains(&word), "{words:?}");
    }
}

#[test]
fn products_on_one_section_with_one_bare_compare_sections() {
    let sections = [("A1", "hop"), ("A2", "fig"), ("B1", "bare")];
    let mut bench = Bench::new(&sections, &ROUNDS);
    bench.means("baseline", &[80.0; 3]);
    bench.means("month-6", &[75.0, 70.0, 60.0]);
    assert_eq!(standing(&bench), Standing::NotJudged(Strength::SectionsOnly));
    assert_eq!(against_bare(&bench), Against::NotJudged(Strength::SectionsOnly));
}

#[test]
fn studies_without_products_or_without_a_question() {
    let mut bare = Bench::new(&[("A1", "bare"), ("A2", "bare")], &ROUNDS);
    bare.means("baseline", &[80.0; 2]);
    assert_eq!(bare.analyse().answer, Answer::NoProducts);
    let only_baseline = Bench::new(&[("A1", "hop")], &ROUNDS[..1]);
    assert_eq!(only_baseline.analyse().answer, Answer::NoQuestion);
    let one = Bench::new(&[("A1", "hop"), ("A2", "bare")], &ROUNDS);
    assert!(matches!(one.analyse().answer, Answer::Missed { latest: None }));
}

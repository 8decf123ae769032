//! The headline for each case that a report words.

use crate::bench::{Bench, day};
use tapeline::analysis::{AgainstBare, Answer, Question, RoundState, Standing, Strength};
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

fn against_bare(bench: &Bench) -> AgainstBare {
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
    let told = AgainstBare::Told { better: all, worse: vec![], different: vec![] };
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
    assert_eq!(against_bare(&alike), AgainstBare::AllAlike);
    let wide = study(&[60.0, 70.0, 61.0, 69.0, 62.0, 70.0, 58.0, 68.0, 63.0]);
    assert_eq!(standing(&wide), Standing::NoneSeparable);
    assert_eq!(against_bare(&wide), AgainstBare::NoneToldApart);
}

#[test]
fn a_product_worse_than_bare_is_said_to_be() {
    let bench = study(&[75.0, 75.4, 62.0, 62.4, 40.0, 40.4, 62.0, 62.4, 62.2]);
    let AgainstBare::Told { better, worse, .. } = against_bare(&bench) else { panic!() };
    assert_eq!((better, worse), (vec![bench.product_id("hop")], vec![bench.product_id("rue")]));
}

#[test]
fn no_bare_sections_leave_the_leader_and_no_difference() {
    let mut bench = study(&[75.0, 75.4, 62.0, 62.4, 61.0, 61.4]);
    bench.study.sections.truncate(6);
    bench.rows.retain(|row| !row.contains(",C"));
    assert_eq!(standing(&bench), Standing::OneLeader(bench.product_id("hop")));
    assert_eq!(against_bare(&bench), AgainstBare::NoBare);
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
fn products_on_one_section_with_one_bare_compare_sections() {
    let sections = [("A1", "hop"), ("A2", "fig"), ("B1", "bare")];
    let mut bench = Bench::new(&sections, &ROUNDS);
    bench.means("baseline", &[80.0; 3]);
    bench.means("month-6", &[75.0, 70.0, 60.0]);
    assert_eq!(standing(&bench), Standing::NotJudged(Strength::SectionsOnly));
    assert_eq!(against_bare(&bench), AgainstBare::NotJudged(Strength::SectionsOnly));
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

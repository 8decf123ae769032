//! The page of every code: its bad example gives the finding and no other error, its good one gives none.

use super::read_bytes;
use super::study::{file, gauge, leave_out, measure, round, section};
use tapeline::diag::{Finding, Severity};
use tapeline::readings::PAGES;
use tapeline::study::{LeaveOut, RoundId, Study, Treatment};

/// The names that readings may use in the frame of the examples.
fn frame() -> Study {
    Study {
        measures: vec![measure("gloss-20", "GU", (0.0, 2000.0))],
        gauges: vec![gauge("glossy", 0, 0.4, "GU")],
        sections: (0..12)
            .map(|place| {
                section(&format!("{}{}", ['A', 'B', 'C'][place / 4], place % 4 + 1), Treatment::Bare)
            })
            .collect(),
        rounds: ["baseline", "fresh", "month 3"].into_iter().map(|name| round(name, 1, 5)).collect(),
        readings: vec![file("readings.csv")],
        ..Study::default()
    }
}

/// The findings of an example. The statement of the examples about left out readings is read from its words.
fn findings(example: &str) -> Vec<Finding> {
    let (piece, readings) = example.split_once("--- readings.csv\n").unwrap();
    let mut study = frame();
    if let Some(statement) = piece.lines().find(|line| line.contains("leave out")) {
        let words: Vec<&str> = statement.split([' ', ',']).filter(|word| !word.is_empty()).collect();
        let after = |word| words.iter().position(|known| *known == word).map(|at| words[at + 1]);
        let value = words[words.iter().position(|word| *word == "GU").unwrap() - 1];
        let number = after("reading").map(|number| number.parse().unwrap());
        let statement = leave_out(number, Some(value.parse().unwrap()));
        study.readings[0].leave_out = vec![LeaveOut { round: RoundId::new(0), ..statement }];
    }
    read_bytes(&study, readings.as_bytes()).1
}

#[test]
fn bad_examples_give_their_finding_and_no_other_error() {
    for page in PAGES {
        let found = findings(page.bad);
        let own = found.iter().find(|finding| finding.code == page.code);
        assert_eq!(own.map(|finding| finding.severity), Some(page.severity), "{}: {found:#?}", page.code);
        let other = found.iter().find(|one| one.code != page.code && one.severity == Severity::Error);
        assert!(other.is_none(), "{}: {other:#?}", page.code);
    }
}

#[test]
fn good_examples_give_nothing_at_all() {
    for page in PAGES {
        let found = findings(page.good);
        assert!(found.is_empty(), "{}: {found:#?}", page.code);
    }
}

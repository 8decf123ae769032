//! A slip in a section that may lead stands beside the answer, with what the answer would be without it.

use super::{MAP, changes, output, readings, sound, study};

fn answer(csv: &str) -> String {
    let report = output(&sound(&study(MAP, ""), csv), "report.md");
    report.split("## The panel").next().unwrap().to_owned()
}

/// Readings with the three of one section at one round replaced.
fn with(csv: &str, round: &str, code: &str, values: &str) -> String {
    let key = format!(",{round},{code},gloss-60,GU,");
    let row = |line: &str| match line.split_once(&key) {
        Some((head, _)) => format!("{head}{key}{values}\n"),
        None => format!("{line}\n"),
    };
    csv.lines().map(row).collect()
}

#[test]
fn a_slip_that_makes_a_leader_brings_what_holds_without_it() {
    // Bay loses 2, the others 6 to 9; the 79.3 of A3 was typed as 793, and thyme may lead by it.
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let honest = answer(&csv);
    assert!(!honest.contains("far off"), "{honest}");
    let slip = answer(&with(&csv, "month 6", "A3", "78.6,793,78.8"));
    assert!(slip.contains("[Without what lies far off](#"), "{slip}");
    let head = |text: &str| text.lines().find(|line| line.starts_with("## ")).unwrap().to_owned();
    assert_ne!(head(&honest), head(&slip));
    assert!(
        slip.contains("), [793 GU](#words) on A3 at month 6, these may lead: Bay spray.")
            && head(&honest).contains("Bay spray is the one"),
        "{slip}"
    );
}

#[test]
fn a_slip_that_turns_nothing_is_said_of_leaders_only() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let of_leader = answer(&with(&csv, "month 6", "A1", "83.3,83.2,85.5"));
    assert!(of_leader.contains("), 85.5 GU on A1 at month 6, the same may lead."), "{of_leader}");
    let of_other = answer(&with(&csv, "month 6", "A4", "78.3,78.2,80.5"));
    assert!(!of_other.contains("far off"), "{of_other}");
}

/// Whose every section is far off has nothing left to be compared by, and nobody overtakes it.
#[test]
fn a_leader_that_is_far_off_altogether_is_not_overtaken() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let both = ["A1", "B3"].iter().fold(csv, |csv, code| with(&csv, "month 6", code, "93.2,73.1,"));
    let slip = answer(&both);
    assert!(slip.contains("A1 at month 6 and B3 at month 6, Bay spray cannot be compared."), "{slip}");
}

#[test]
fn a_person_is_one_in_any_capitals() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let twice: String = csv
        .lines()
        .enumerate()
        .map(|(at, line)| match at {
            0 => format!("{line},by\n"),
            _ => format!("{line},K\n{line},k\n"),
        })
        .collect();
    let outcome = sound(&study(MAP, ""), &twice);
    assert!(
        outcome.findings.iter().any(|finding| finding.code == "reading-number-twice"),
        "{:?}",
        outcome.findings
    );
    assert!(!output(&outcome, "report.md").contains("taken by 2 people"));
}

/// Within the scale it is the step that is wrong, and the range alone would contradict itself.
#[test]
fn a_mark_between_the_steps_is_told_by_the_steps() {
    let rated = "measure moss, a rating 0 to 5\n    lower is better\n";
    for (more, steps) in [("    half marks\n", "whole and half marks only"), ("", "whole marks only")] {
        let text = study(MAP, "")
            .replace("supply soap", &format!("{rated}{more}supply soap"))
            .replace("    every round gloss-60", "    every round moss once, gloss-60");
        let csv = "date,round,section,measure,1\n2025-06-02,baseline,A1,moss,2.3\n";
        let files = [("readings.csv".to_owned(), csv.as_bytes().to_vec())];
        let found =
            tapeline::pipeline::check("lid.study", &text, &files, tapeline::pipeline::Day::AsOf(super::DAY));
        let told = found.findings.iter().find(|finding| finding.code == "value-out-of-range").unwrap();
        assert!(told.label.ends_with(steps) && told.label.starts_with("possible is 0 to 5"), "{told:?}");
    }
}

//! What is on record of the work, what only the plan says, and notes of readings that must not be lost.

use super::{MAP, changes, output, readings, sound, study};

fn report(text: &str, csv: &str) -> String {
    output(&sound(text, csv), "report.md")
}

fn answer(report: &str) -> &str {
    report.split("## The panel").next().unwrap()
}

fn limits(report: &str) -> &str {
    let part = report.split("## What this comparison cannot say").nth(1).unwrap();
    part.split("\n## ").next().unwrap()
}

fn usual() -> String {
    readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3)
}

/// Rue, which is worst of all, gets its second coat 50 h 50 min after the first; 24 to 48 h are asked.
#[test]
fn a_coat_that_missed_its_window_is_told_with_its_hours_whoever_wins() {
    let text = study(MAP, "").replace(
        "product rue \"Rue spray\", a spray sealant\n",
        "product rue \"Rue spray\", a spray sealant\n    coats       2   after 24 to 48 h\n",
    );
    let done = |second: &str| {
        format!(
            "{text}\ndone 2025-06-03 11:10  coat 1 of rue  by \"Ina\"\ndone {second}  coat 2 of rue  by \"Ina\"\n"
        )
    };
    let late = report(&done("2025-06-05 14:00"), &usual());
    let slip = "Rue spray (coat 2 put on 50 h 50 min after coat 1, too late: 24 to 48 h was asked)";
    let told = answer(&late);
    assert!(told.contains("among the others](") && told.contains(&format!("): {slip}.")), "{told}");
    assert!(limits(&late).contains(&format!("outside the window of a coat: {slip}.")), "{}", limits(&late));
    assert!(
        late.contains("coat 2 of “rue” went on 50 h 50 min after coat 1, too late: its window is 24 to 48 h")
    );
    // The record names who put on one of four products.
    assert!(
        limits(&late).contains("by one person (Ina; by the record of one of 4 products)"),
        "{}",
        limits(&late)
    );
    let kept = report(&done("2025-06-04 14:00"), &usual());
    assert!(!kept.contains("put on 26 h") && !kept.contains("outside the window of a coat"), "{kept}");
}

#[test]
fn a_study_without_any_record_says_so_below_its_answer_and_among_its_limits() {
    let none = report(&study(MAP, ""), &usual());
    assert!(answer(&none).contains("No step and no coat is on record"), "{}", answer(&none));
    assert!(limits(&none).contains("no step of the preparation (2 steps) and no coat"), "{}", limits(&none));
    let some = report(&study(MAP, "\ndone 2025-06-02 09:10  wash\n"), &usual());
    assert!(!answer(&some).contains("is on record"), "{}", answer(&some));
    assert!(
        limits(&some)
            .contains("On record are 1 of 2 steps of the preparation and all coats of none of 4 products"),
        "{}",
        limits(&some)
    );
}

/// What is written beside a reading stays with it, as it is written, and answers the question why it was late.
#[test]
fn a_note_goes_into_the_report_and_into_the_readings_that_are_given_away() {
    let note = "Rain till noon, \"again\"";
    let csv: String = usual()
        .lines()
        .map(|line| match line {
            head if head.starts_with("date") => format!("{head},note\n"),
            late if late.contains("month 6,B1") => {
                format!("{},\"{}\"\n", late.replace("2025-12-03", "2025-12-29"), note.replace('"', "\"\""))
            }
            line => format!("{line},\n"),
        })
        .collect();
    let outcome = sound(&study(MAP, ""), &csv);
    let found = outcome.findings.iter().find(|one| one.code == "read-outside-window").unwrap();
    assert!(found.message.contains("the note says \"Rain till noon"), "{}", found.message);
    assert!(!found.help.iter().any(|help| help.contains("say why")), "{:?}", found.help);
    let rows = output(&outcome, "readings.csv");
    assert_eq!(rows.matches(",\"Rain till noon, \"\"again\"\"\"\n").count(), 3, "{rows}");
    assert!(rows.lines().next().unwrap().ends_with(",left out,note"));
    let page = output(&outcome, "report.md");
    assert!(page.contains("Noted at B1: Rain till noon"), "{page}");
}

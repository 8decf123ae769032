//! As of an earlier day a study is what its files were at the end of that day.

use super::{HEAD, MAP, TAIL, changes, output, readings};
use jiff::civil::{Date, date};
use tapeline::pipeline::{Day, Outcome, check};

const EARLY: Date = date(2025, 7, 1);

const OUT: &str = "    leave out gloss-60 of B1 at fresh, reading 1, 84.9 GU  because \"grit\"\n";
const LATER_OUT: &str = "    leave out gloss-60 of A1 at month 6, reading 2, 83.3 GU  because \"lifted\"\n";
const KNOWN: &str = "done 2025-06-03 10:00  coat 1 of bay\nlog 2025-06-20 A2 \"tree sap\"\n";
const LATER: &str = "done 2025-08-03 10:00  coat 1 of rue\nlog 2025-07-02 B3 \"chipped\" ends the section\n";

fn looked_at(study: &str, csv: &str, day: Day) -> Outcome {
    check("lid.study", study, &[("readings.csv".to_owned(), csv.as_bytes().to_vec())], day)
}

/// A text without the lines that hold a digest or tell what was passed over.
fn without_digests(text: &str) -> Vec<&str> {
    let aside = |line: &&str| {
        !["lid.study", "readings.csv", "Passed over"].iter().any(|word| line.contains(word))
            && !line.is_empty()
    };
    text.lines().filter(aside).collect()
}

#[test]
fn an_earlier_day_gives_what_the_files_of_that_day_gave() {
    let all = readings(&changes(-1.7, -6.0, -7.0, -9.0, 0.3), 3)
        .replace("A1,gloss-60,GU,83.5,83.6,83.7", "A1,gloss-60,GU,83.5,83.3,83.7");
    // What is known stands above what is not, so that both tell it at the same line.
    let whole = format!("{HEAD}{KNOWN}{MAP}{TAIL}{OUT}{LATER_OUT}{LATER}");
    let known = format!("{HEAD}{KNOWN}{MAP}{TAIL}{OUT}");
    let then = looked_at(&known, &readings(&changes(-1.7, -6.0, -7.0, -9.0, 0.3), 2), Day::AsOf(EARLY));
    let now = looked_at(&whole, &all, Day::AsOf(EARLY));
    assert_eq!(
        now.findings.iter().map(|one| one.code).collect::<Vec<_>>(),
        then.findings.iter().map(|one| one.code).collect::<Vec<_>>()
    );
    for name in tapeline::outputs::FILES.iter().map(|file| file.name) {
        let (then, now) = (output(&then, name), output(&now, name));
        assert_eq!(without_digests(&now), without_digests(&then), "{name}");
    }
    let report = output(&now, "report.md");
    assert!(report.contains("One reading was left out") && !report.contains("lifted"), "{report}");
    assert!(report.contains("12 rows of its files, 2 records"), "{report}");
    // On a later day all of it is there, so that the comparison above could have failed.
    let report = output(&looked_at(&whole, &all, Day::AsOf(date(2026, 1, 10))), "report.md");
    assert!(
        report.contains("2 readings were left out")
            && report.contains("chipped")
            && report.contains("2025-08-03")
    );
}

#[test]
fn what_is_wrong_in_later_rows_is_not_known_yet() {
    let csv = format!(
        "{}2025-12-03,month 6,Z9,gloss-60,GU,1,2,shiny\n",
        readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 2)
    );
    let study = format!("{HEAD}{MAP}{TAIL}");
    let codes =
        |day| looked_at(&study, &csv, day).findings.into_iter().map(|one| one.code).collect::<Vec<_>>();
    assert!(
        codes(Day::Today(date(2025, 12, 4))).contains(&"unknown-section"),
        "{:?}",
        codes(Day::Today(EARLY))
    );
    assert!(!codes(Day::AsOf(EARLY)).contains(&"unknown-section"));
}

#[test]
fn a_row_without_a_day_counts_as_of_the_first_day_of_its_round() {
    let csv = "round,section,measure,unit,1,2,3\nbaseline,A1,gloss-60,GU,85,85,85\nmonth 6,A1,gloss-60,GU,80,80,80\n";
    let at = |day| looked_at(&format!("{HEAD}{MAP}{TAIL}"), csv, Day::AsOf(day)).readings.len();
    // Month 6 is planned for 2025-12-03, within a week.
    assert_eq!((at(EARLY), at(date(2025, 11, 25)), at(date(2025, 11, 26))), (3, 3, 6));
}

#[test]
fn a_waiver_of_what_came_later_is_not_idle_on_an_earlier_day() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3).replace("2025-12-03", "2025-12-20");
    let study = format!("{HEAD}{MAP}{TAIL}allow read outside window for month 6 because \"frost\"\n");
    let codes =
        |day| looked_at(&study, &csv, day).findings.into_iter().map(|one| one.code).collect::<Vec<_>>();
    assert!(!codes(Day::AsOf(date(2026, 1, 10))).contains(&"waiver-not-needed"));
    assert!(!codes(Day::AsOf(EARLY)).contains(&"waiver-not-needed"), "{:?}", codes(Day::AsOf(EARLY)));
    let sound = looked_at(&study, &csv.replace("2025-12-20", "2025-12-03"), Day::AsOf(date(2026, 1, 10)));
    assert!(sound.findings.iter().any(|one| one.code == "waiver-not-needed"));
}

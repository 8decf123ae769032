//! The files as a set: their names, their bytes, and the two for machines.

use super::{HEAD, MAP, TAIL, changes, output, readings, sound, study};
use jiff::civil::date;
use sha2::{Digest, Sha256};
use tapeline::outputs::{FILES, OUTPUTS};
use tapeline::pipeline::{Day, check};

fn outcome() -> tapeline::pipeline::Outcome {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3);
    let out =
        "    leave out gloss-60 of A1 at month 6, reading 2, 83.3 GU   because \"=grain under the foot\"\n";
    let csv = csv.replace("A1,gloss-60,GU,83.2,83.3,83.4", "A1,gloss-60,GU,82.9,83.3,83.4");
    sound(&format!("{HEAD}{MAP}{TAIL}{out}"), &csv)
}

#[test]
fn names_never_change() {
    let names: Vec<&str> = OUTPUTS.iter().map(|output| output.file.name).collect();
    assert_eq!(FILES.iter().map(|file| file.name).collect::<Vec<_>>(), names, "the index names every output");
    assert_eq!(
        names,
        [
            "index.html",
            "report.html",
            "report.md",
            "map.svg",
            "checklist.html",
            "run-sheet.html",
            "safety-cards.html",
            "labels.html",
            "calendar.ics",
            "readings.csv",
            "findings.json"
        ]
    );
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let one = outcome().build(None).unwrap();
    let two = outcome().build(None).unwrap();
    assert_eq!(one.len(), OUTPUTS.len());
    assert_eq!(one, two);
}

/// The clock says what is due; the files say what was known when the study was last read.
#[test]
fn no_output_depends_on_the_day_of_the_clock() {
    let csv = readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 2);
    let files = [("readings.csv".to_owned(), csv.into_bytes())];
    let waived = "allow round missed for month 6 because \"snow\"\n";
    for (text, files, bears) in [
        (study(MAP, ""), &files[..], Some(date(2025, 6, 10))),
        (study(MAP, waived), &files[..], Some(date(2025, 6, 10))),
        (study(MAP, ""), &[], None),
    ] {
        let on = |day| check("lid.study", &text, files, Day::Today(day));
        let (early, late) = (on(date(2025, 6, 1)), on(date(2027, 1, 1)));
        assert_ne!(early.findings, late.findings, "a day makes no difference here at all");
        assert_eq!((early.edition().date, late.edition().date), (bears, bears));
        assert!(early.build(None).unwrap() == late.build(None).unwrap());
        assert!(!output(&late, "findings.json").contains("waiver-not-needed"));
    }
}

#[test]
fn a_study_without_readings_bears_no_date_unless_it_is_asked_for() {
    let text = study(MAP, "");
    let at = |day| output(&check("lid.study", &text, &[], day), "report.md");
    let report = at(Day::Today(date(2025, 5, 1)));
    assert!(report.contains("before the first reading") && !report.contains("as of 20"), "{report}");
    assert!(at(Day::AsOf(date(2025, 5, 1))).contains("as of 2025-05-01"));
    let findings = output(&check("lid.study", &text, &[], Day::Today(date(2025, 5, 1))), "findings.json");
    assert_eq!(
        serde_json::from_str::<serde_json::Value>(&findings).unwrap()["date"],
        serde_json::Value::Null
    );
}

#[test]
fn readings_are_all_there_and_no_cell_is_a_formula() {
    let outcome = outcome();
    let csv = output(&outcome, "readings.csv");
    let rows: Vec<csv::StringRecord> =
        csv::Reader::from_reader(csv.as_bytes()).records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), outcome.readings.len());
    let left_out: Vec<_> = rows.iter().filter(|row| !row[10].is_empty()).collect();
    assert_eq!(left_out.len(), 1);
    assert_eq!(
        (&left_out[0][2], &left_out[0][6], &left_out[0][10]),
        ("A1", "83.3", "'=grain under the foot")
    );
}

#[test]
fn findings_name_file_line_and_page() {
    let text = study(MAP, "").replace("    certified   2025-05-01 for 12 months\n", "");
    let outcome = sound(&text, &readings(&changes(-2.0, -6.0, -7.0, -9.0, 0.3), 3));
    let value: serde_json::Value = serde_json::from_str(&output(&outcome, "findings.json")).unwrap();
    let findings = value["findings"].as_array().unwrap();
    assert_eq!(findings.len(), outcome.findings.len());
    assert!(!findings.is_empty());
    for (entry, finding) in findings.iter().zip(&outcome.findings) {
        assert_eq!(entry["code"], finding.code);
        assert_eq!(entry["severity"], finding.severity.word());
        assert_eq!(entry["page"], format!("tapeline explain {}", finding.code));
        assert!(entry["line"].as_u64().unwrap() >= 1 && entry["column"].as_u64().unwrap() >= 1);
        assert!(["lid.study", "readings.csv"].contains(&entry["file"].as_str().unwrap()));
    }
}

#[test]
fn the_report_says_what_it_was_made_from() {
    let outcome = outcome();
    let report = output(&outcome, "report.md");
    let made_from = &report[report.find("What this report was made from").unwrap()..];
    for file in outcome.sources.iter() {
        let digest: String = Sha256::digest(file.text.as_bytes())
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect::<Vec<_>>()
            .concat();
        assert!(made_from.contains(&format!("| {} | {digest} |", file.name)), "{}", file.name);
    }
    assert_eq!(outcome.sources.iter().count(), 2);
    assert!(report.contains("\\[83.3\\]"), "the reading that is left out stands in brackets");
}

#[test]
fn every_picture_of_the_text_is_drawn_in_the_page() {
    let outcome = outcome();
    let (report, page) = (output(&outcome, "report.md"), output(&outcome, "report.html"));
    let named = report.matches("[Picture: ").count();
    assert!(named >= 3, "{named}");
    assert_eq!(page.matches("<figure").count(), named + 1, "and the map");
    assert!(!page.contains("Picture: "));
}

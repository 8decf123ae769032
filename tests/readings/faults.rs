//! What is said about rows that cannot be placed, and where the caret stands.

use super::{read_bytes, read_text, study, told};
use tapeline::diag::Finding;
use tapeline::pipeline::{self, Day};

const HEAD: &str = "date,round,section,measure,value,unit,gauge,by\n";

/// The one finding of a single row under the usual header.
fn one(row: &str) -> (String, Finding) {
    let text = format!("{HEAD}{row}\n");
    let (_, findings) = read_text(&text);
    assert_eq!(findings.len(), 1, "{findings:#?}");
    (told(&text, &findings).remove(0), findings[0].clone())
}

#[test]
fn each_fault_of_a_row_is_told_at_its_field() {
    let rows = [
        ("2026-03-11,fresh,A9,gloss-20,88.4,GU,,", "2 unknown-section [A9]"),
        ("2026-03-11,fresch,A1,gloss-20,88.4,GU,,", "2 unknown-round [fresch]"),
        ("2026-03-11,fresh,A1,gloss-60,88.4,GU,,", "2 unknown-measure [gloss-60]"),
        ("2026-03-11,fresh,A1,gloss-20,88.4,um,,", "2 wrong-unit [um]"),
        ("2026-03-11,fresh,A1,gloss-20, 88.4x ,GU,,", "2 not-a-number [88.4x]"),
        ("2026-03-11,fresh,A1,gloss-20,-88.4,GU,,", "2 value-out-of-range [-88.4]"),
        ("2026-03-11,fresh,A1,gloss-20,1e999,GU,,", "2 not-a-number [1e999]"),
        ("03/04/2026,fresh,A1,gloss-20,88.4,GU,,", "2 date-two-ways [03/04/2026]"),
        ("2026-02-30,fresh,A1,gloss-20,88.4,GU,,", "2 bad-date [2026-02-30]"),
        ("2026-03-11,fresh,,gloss-20,88.4,GU,,", "2 unknown-section []"),
        ("2026-03-11,fresh,A1,gloss-20,88,4,GU,,K. M.", "2 row-too-long [K. M.]"),
        ("2026-03-11,fresh,A1", "2 row-too-short [2026-03-11,fresh,A1]"),
        ("2026-03-11,fresh,A1,gloss-20,88.4,GU,,\"K. M.", "2 unclosed-quote [\"]"),
        (",fresh,A1,gloss-20,88.4,GU,,", "2 reading-undated warning[88.4]"),
    ];
    for (row, expected) in rows {
        assert_eq!(one(row).0, expected, "{row}");
    }
}

#[test]
fn every_fault_of_one_row_is_told() {
    let text = format!("{HEAD}30/02/2026,fresch,A9,gloss-20,x,mm,,\n");
    let (readings, findings) = read_text(&text);
    let expected = [
        "2 bad-date [30/02/2026]",
        "2 unknown-round [fresch]",
        "2 unknown-section [A9]",
        "2 not-a-number [x]",
        "2 wrong-unit [mm]",
    ];
    assert_eq!(told(&text, &findings), expected);
    assert_eq!((readings.len(), readings.files[0].refused), (0, 1));
}

#[test]
fn help_says_what_to_write() {
    let help = |row| one(row).1.help.join("; ");
    assert_eq!(help("2026-03-11,fresch,A1,gloss-20,88.4,GU,,"), "write `fresh`");
    assert_eq!(
        help("2026-03-11,fresh,clove,gloss-20,88.4,GU,,"),
        "name the section; `clove` is on A2 and B2"
    );
    assert_eq!(help("2026-03-11,fresh,bare,gloss-20,88.4,GU,,"), "name the section; `bare` is on A4 and B4");
    assert_eq!(help("2026-03-11,summer,A1,gloss-20,88.4,GU,,"), "the rounds are baseline, fresh and month 6");
    assert_eq!(help("03/04/2026,fresh,A1,gloss-20,88.4,GU,,"), "write `2026-04-03` or `2026-03-04`");
    assert_eq!(help("13/04/2026,fresh,A1,gloss-20,88.4,GU,,"), "write `2026-04-13`");
    let both = one("03/04/2026,fresh,A1,gloss-20,88.4,GU,,").1.message;
    assert_eq!(both, "`03/04/2026` can be read as 2026-04-03 or as 2026-03-04");
}

#[test]
fn a_fault_that_comes_again_is_one_finding_with_its_count() {
    let mut text = String::from(HEAD);
    for row in 0..1000 {
        text.push_str(&format!("2026-03-11,fresh,A9,gloss-20,{row},GU,,\n"));
        text.push_str(&format!("2026-03-11,fresh,A1,gloss-20,{row}x,GU,,\n"));
    }
    let (readings, findings) = read_text(&text);
    assert_eq!(findings.len(), 1001);
    let unknown = &findings[0];
    assert_eq!(unknown.message, "`A9` is not a section of this study; 999 places more like it");
    assert_eq!(unknown.related.len(), 3);
    assert_eq!(readings.files[0].refused, 2000);
}

#[test]
fn days_in_one_habit_are_one_finding_and_with_points_they_are_read() {
    let of = |sign: &str| {
        let rows = (1..=9).map(|day| format!("0{day}{sign}03{sign}2026,fresh,A1,gloss-20,8{day},GU,,\n"));
        read_text(&format!("{HEAD}{}", rows.collect::<String>()))
    };
    let (readings, findings) = of("/");
    // Of nine days one reads the same both ways, and still lacks its year in front.
    let told: Vec<&str> = findings.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        told,
        [
            "`01/03/2026` can be read as 2026-03-01 or as 2026-01-03; 7 places more like it",
            "`03/03/2026` does not have the year first"
        ]
    );
    assert_eq!(readings.files[0].refused, 0, "what else is in the rows is read");
    let (readings, findings) = of(".");
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(readings.last_date(), Some(jiff::civil::date(2026, 3, 9)));
}

#[test]
fn a_row_like_the_one_before_is_read_with_the_same_care() {
    let good = "2026-03-11,fresh,A1,gloss-20,88.4,GU,,\n";
    let bad = [
        ("2026-03-11,fresh,A1,gloss-20,8.8.4,GU,,\n", "3 not-a-number [8.8.4]"),
        ("2026-03-11,fresh,A1,gloss-20,-1,GU,,\n", "3 value-out-of-range [-1]"),
        ("2026-03-11,fresh,A1,gloss-20,88.4,GU,,,extra\n", "3 row-too-long [extra]"),
        ("2026-03-11,fresh,A1,gloss-20,88.4,mm,,\n", "3 wrong-unit [mm]"),
    ];
    for (row, expected) in bad {
        let text = format!("{HEAD}{good}{row}{good}");
        let (readings, findings) = read_text(&text);
        assert_eq!(told(&text, &findings), [expected]);
        assert_eq!((readings.len(), readings.files[0].rows, readings.files[0].refused), (2, 3, 1));
    }
}

#[test]
fn headers_are_told_what_they_lack() {
    let cases = [
        ("2026-03-11,fresh,A1,gloss-20,88.4\n", "1 header-not-known [2026-03-11,fresh,A1,gloss-20,88.4]"),
        ("date,round,sektion,measure,value\n", "1 column-missing [date,round,sektion,measure,value]"),
        ("date,round,section,measure\n", "1 column-missing [date,round,section,measure]"),
        ("date,round,section,measure,value,Value\n", "1 column-twice [Value]"),
        ("date,round,section,measure,1,2,value\n", "1 column-twice [date,round,section,measure,1,2,value]"),
        ("date,round,section,measure,value,weather\n", "1 extra-columns advice[weather]"),
        ("\n", "1 readings-empty advice[]"),
    ];
    for (text, expected) in cases {
        assert_eq!(told(text, &read_text(text).1), [expected], "{text}");
    }
    let (_, findings) = read_text("date,round,sektion,measure,value\n");
    assert_eq!(findings[0].help, ["call `sektion` `section`"]);
    assert!(read_text("date,round,section,measure,value\n").1.is_empty());
}

#[test]
fn a_column_that_the_study_names_must_be_there() {
    let mut own = study::study();
    own.readings[0].columns = vec![(study::at("Feld".into()), "section".into())];
    let (_, findings) = read_bytes(&own, b"date,round,section,measure,value\n");
    assert_eq!(findings[0].code, "column-missing");
    assert_eq!(findings[0].place.file, tapeline::text::FileId::STUDY);
}

#[test]
fn where_the_study_is_broken_its_readings_are_not_blamed() {
    let mut own = study::study();
    own.rounds_broken = true;
    let text = format!("{HEAD}2026-03-11,month 3,A1,gloss-20,88.4,GU,,\n");
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert_eq!(told(&text, &findings), ["2 unknown-round warning[month 3]"]);
    assert_eq!(readings.files[0].refused, 1);
}

#[test]
fn a_number_given_twice_is_told_and_both_are_kept() {
    let text = "date,round,section,measure,reading,value\n\
        2026-03-11,fresh,A1,gloss-20,1,88.4\n2026-03-11,fresh,A1,gloss-20,1,88.4\n2026-03-11,fresh,A1,gloss-20,0,88.4\n";
    let (readings, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["3 reading-number-twice warning[88.4]", "4 not-a-number [0]"]);
    assert_eq!(findings[0].message, "another row gives reading 1 of `gloss-20` on `A1` at `fresh` as well");
    assert_eq!((readings.len(), readings.cells()[0].doubled), (2, 1));
}

#[test]
fn a_row_that_was_typed_twice_is_one_finding_at_its_second_place() {
    let head = "date,round,section,measure,1,2,3\n";
    let row = |code: &str| format!("2026-03-11,fresh,{code},gloss-20,88.4,88.5,88.6\n");
    let text = [head, &row("A1"), &row("A2"), &row("A1")].concat();
    let (_, findings) = read_text(&text);
    assert_eq!(told(&text, &findings), ["4 reading-number-twice warning[88.4]"]);
    let message = "another row gives readings 1, 2 and 3 of `gloss-20` on `A1` at `fresh` as well";
    assert_eq!(findings[0].message, message);
    let many = [head, &row("A1"), &row("A2"), &row("A1"), &row("A2")].concat();
    let (readings, findings) = read_text(&many);
    assert_eq!(told(&many, &findings), ["4 reading-number-twice warning[88.4]"]);
    assert!(findings[0].message.contains("on `A1` and `A2`"), "{}", findings[0].message);
    assert_eq!(readings.cells().iter().map(|cell| cell.doubled).sum::<u32>(), 6);
}

#[test]
fn a_time_that_is_none_is_told_and_its_reading_kept() {
    let text = "date,time,round,section,measure,value\n2026-03-11,25:00,fresh,A1,gloss-20,88.4\n\
        2026-03-11,9:30,fresh,A2,gloss-20,88.4\n2026-03-11,,fresh,A3,gloss-20,88.4\n2026-03-11,noon,fresh,A4,gloss-20,88.4\n";
    let (readings, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["2 bad-time warning[25:00]", "5 bad-time warning[noon]"]);
    assert_eq!((readings.len(), readings.files[0].refused), (4, 0));
}

#[test]
fn rows_that_could_not_be_placed_are_remembered_by_what_they_name() {
    use tapeline::study::{MeasureId, RoundId, SectionId};
    let text = format!(
        "{HEAD}2026-03-11,fresh,A1,gloss-20,x,GU,,\n2026-03-11,fresh,A9,gloss-20,80,GU,,\n\
         2026-03-11,spring,A2,film,80,um,,\n2026-03-11,fresh,A3\n"
    );
    let (readings, _) = read_text(&text);
    let refused = |section, round, measure| {
        readings.may_be_refused(SectionId::new(section), RoundId::new(round), MeasureId::new(measure))
    };
    assert!(refused(0, 1, 0) && !refused(0, 1, 1) && !refused(0, 2, 0));
    // A round that is not known may be any, and so may a measure.
    assert!(refused(1, 0, 1) && refused(1, 2, 1) && !refused(1, 2, 0));
    assert!(refused(2, 1, 0) && refused(2, 1, 1) && !refused(2, 0, 0));
    assert_eq!(
        (readings.refused_sections(RoundId::new(1)), readings.refused_sections(RoundId::new(0))),
        (1, 0)
    );
    assert!(!readings.has_unread_file());
    assert!(read_text("2026-03-11,fresh,A1,gloss-20,88.4\n").0.has_unread_file());
}

#[test]
fn headings_in_german_say_what_to_write() {
    let text = "Datum,Runde,Feld,measure,value\n2026-03-11,fresh,A1,gloss-20,88.4\n";
    let (_, findings) = read_text(text);
    let helps: Vec<&str> = findings.iter().flat_map(|one| &one.help).map(String::as_str).collect();
    assert!(
        helps.contains(&"write `column \"Runde\" is round` under `readings`, or call it `round` in the file")
            && helps.iter().any(|help| help.starts_with("write `column \"Feld\" is section`")),
        "{helps:?}"
    );
}

#[test]
fn a_section_that_stands_twice_with_other_values_names_the_one_that_is_missing() {
    let codes: Vec<String> = study::study().sections.iter().map(|section| section.code.clone()).collect();
    let (doubled, missing) = (&codes[0], &codes[codes.len() - 1]);
    let row = |code: &str, value: &str| format!("2026-03-11,fresh,{code},gloss-20,{value},GU,,,1\n");
    let rows = |value: &str| {
        let all: String =
            codes.iter().filter(|code| *code != missing).map(|code| row(code, "88.4")).collect();
        format!("date,round,section,measure,value,unit,gauge,by,reading\n{all}{}", row(doubled, value))
    };
    let helps = |value: &str| {
        let (_, findings) = read_text(&rows(value));
        let twice = findings.into_iter().find(|one| one.code == "reading-number-twice").unwrap();
        twice.help
    };
    let meant = format!("did you mean `{missing}`, which has no row in this round?");
    assert!(helps("41.2").contains(&meant));
    assert!(!helps("88.4").contains(&meant), "equal rows are one row typed twice");
}

#[test]
fn of_a_patch_that_is_not_drawn_the_others_of_its_section_are_told() {
    let text = include_str!("../../examples/marked-cladding/marked-cladding.study");
    let rows = "date,round,section,measure,value\n2025-05-06,baseline,b6 / a9,gloss-60,73.1\n";
    let files = [("readings.csv".to_owned(), rows.into())];
    let found = pipeline::check("study", text, &files, Day::AsOf("2025-06-30".parse().unwrap())).findings;
    let unknown = found.iter().find(|one| one.code == "unknown-section").unwrap();
    // Which of them was meant cannot be told: `a1` is no nearer than `a2`.
    assert_eq!(unknown.help, ["the patches of B6 are a1, a2, b1 and b2"]);
}

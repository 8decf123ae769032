//! Files as spreadsheets and people keep them: headings with units, summary rows, days of other habits. Nothing of them is lost
//! without a word, and what the help says to write is read.

use super::{cell, read_bytes, read_sound, read_text, study, told};
use tapeline::diag::Severity;
use tapeline::readings::{Readings, Value};
use tapeline::text::{Located, Span};

fn values(readings: &Readings) -> Vec<Value> {
    readings.of(&cell(readings, 0, 1, 0)).map(|reading| reading.value).collect()
}

fn helps(text: &str) -> Vec<String> {
    read_text(text).1.into_iter().flat_map(|finding| finding.help).collect()
}

#[test]
fn readings_side_by_side_go_by_any_word_and_have_their_unit_in_the_heading() {
    for heads in [
        "Reading 1 (GU);Reading 2 (GU)",
        "Value 1;Value 2",
        "1 (GU);2 (GU)",
        "No. 1;No. 2",
        "reading1;reading2",
    ] {
        let text = format!("date;round;section;measure;{heads}\n2026-03-11;fresh;A1;gloss-20;88.4;88.6\n");
        assert_eq!(values(&read_sound(&text)), [Value::Taken(88.4), Value::Taken(88.6)], "{heads}");
    }
    for head in ["value (GU)", "Value GU", "reading [GU]", "value, GU"] {
        let text = format!("date;round;section;measure;{head}\n2026-03-11;fresh;A1;gloss-20;88.4\n");
        assert_eq!(values(&read_sound(&text)), [Value::Taken(88.4)], "{head}");
    }
}

#[test]
fn the_unit_of_a_heading_counts() {
    let readings = read_sound("date;round;section;measure;value (mil)\n2026-03-11;fresh;A1;film;2\n");
    // International yard and pound agreement, 1959: 1 mil is 25.4 um.
    let list: Vec<Value> = readings.of(&cell(&readings, 0, 1, 1)).map(|one| one.value).collect();
    assert_eq!(list, [Value::Taken(50.8)]);
    let row = "2026-03-11;fresh;A1;gloss-20;88.4\n";
    let text = format!("date;round;section;measure;value (um)\n{row}{row}");
    let (readings, findings) = read_text(&text);
    assert_eq!(told(&text, &findings), ["1 wrong-unit [value (um)]"]);
    assert_eq!((readings.len(), readings.files[0].refused), (0, 2));
    let text = "date;round;section;measure;1 (GU);2 (um)\n2026-03-11;fresh;A1;gloss-20;88.4;61\n";
    assert_eq!(told(text, &read_text(text).1), ["1 wrong-unit [2 (um)]"]);
    let text = "date;round;section;measure;unit;1 (GU)\n2026-03-11;fresh;A1;gloss-20;GU;88.4\n";
    assert_eq!(told(text, &read_text(text).1), ["1 column-twice [1 (GU)]"]);
}

#[test]
fn a_unit_behind_every_reading_is_read_or_told_by_its_cause() {
    let text = "date;round;section;measure;value\n2026-03-11;fresh;A1;gloss-20;88,4 GU\n2026-03-11;fresh;A1;film;2 mil\n";
    let (readings, _) = read_text(text);
    assert_eq!(values(&readings), [Value::Taken(88.4)]);
    let film: Vec<Value> = readings.of(&cell(&readings, 0, 1, 1)).map(|one| one.value).collect();
    assert_eq!(film, [Value::Taken(50.8)]);
    let rows: Vec<String> = (0..40).map(|n| format!("2026-03-11,fresh,A1,gloss-20,{n} mm\n")).collect();
    let rows = rows.concat();
    let text = format!("date,round,section,measure,value\n{rows}");
    let (readings, findings) = read_text(&text);
    assert_eq!(findings.len(), 1, "one cause, one finding");
    assert_eq!(findings[0].message, "`mm` is no unit of gloss-20, which is in GU; 39 places more like it");
    assert_eq!(readings.files[0].refused, 40);
    // The row says another unit than the cell: nobody knows which is right.
    let text = "date,round,section,measure,value,unit\n2026-03-11,fresh,A1,film,2 mil,um\n";
    assert_eq!(told(text, &read_text(text).1), ["2 wrong-unit [2 mil]"]);
}

#[test]
fn who_read_is_not_a_column_to_throw_away() {
    let text = "date,round,section,measure,Who,value\n2026-03-11,fresh,A1,gloss-20,Ann,88.4\n2026-03-11,fresh,A1,gloss-20,Bob,88.6\n";
    let readings = read_sound(text);
    let by: Vec<_> = readings.of(&cell(&readings, 0, 1, 0)).map(|one| one.by).collect();
    assert_eq!(by, [Some("Ann"), Some("Bob")]);
    let text = text.replace("Who", "Inspector");
    let (_, findings) = read_text(&text);
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].severity, Severity::Advice);
    let help = findings[0].help.join(" ");
    assert!(help.contains("`column \"Inspector\" is by`") && !help.contains("nothing is wrong"), "{help}");
    let mut own = study::study();
    let at = |text: &str| Located::new(text.to_owned(), Span::default());
    own.readings[0].columns = vec![(at("Inspector"), "by".into())];
    assert!(read_bytes(&own, text.as_bytes()).1.is_empty(), "and the line that it tells is read");
}

#[test]
fn a_column_that_lacks_is_looked_for_among_those_that_are_there() {
    let row = "2026-03-11,fresh,A1,gloss-20,88.4\n";
    let help = |head: &str| helps(&format!("{head}\n{row}")).join("; ");
    let said = |own: &str, word: &str| {
        format!("write `column \"{own}\" is {word}` under `readings`, or call it `{word}` in the file")
    };
    assert_eq!(help("date,When,section,measure,value"), said("When", "round"));
    assert_eq!(help("date,round,Field,measure,value"), said("Field", "section"));
    assert_eq!(help("date,round,section,measure,Mark"), said("Mark", "value"));
    assert_eq!(help("Datum,Runde,section,measure,value"), said("Runde", "round"));
    let held = help("date,round,section,measure,R1");
    assert!(held.contains("`column \"R1\" is value`"), "{held}");
    let side =
        helps("date,round,section,measure,R1,R2,R3\n2026-03-11,fresh,A1,gloss-20,88.4,88.6,88.2\n").join("");
    assert_eq!(side, "call the columns `R1` to `R3` `1`, `2` and `3`, which are readings side by side");
    let wide = helps("date,round,section,gloss-20,film\n2026-03-11,fresh,A1,88.4,61\n");
    assert_eq!(wide.len(), 2);
    assert!(
        wide.iter().all(|help| help.starts_with("give each measure rows of its own: `gloss-20`")),
        "{wide:?}"
    );
}

#[test]
fn a_row_of_means_or_of_units_is_one_finding_and_never_a_reading() {
    let head = "date;round;section;measure;value\n2026-03-11;fresh;A1;gloss-20;88.4\n";
    for row in ["Mean;;;;30,1\n", ";;;;GU\n", "Average;;;;88.4\n"] {
        let text = format!("{head}{row}{row}");
        let (readings, findings) = read_text(&text);
        assert_eq!(findings.len(), 1, "{findings:?}");
        assert_eq!(
            findings[0].message,
            "this row names no section, round or measure of the study; 1 place more like it"
        );
        assert!(findings[0].help[0].starts_with("take it out where it is a mean"));
        assert_eq!((readings.len(), readings.files[0].refused), (1, 2));
    }
}

#[test]
fn thousands_and_days_of_other_habits_are_told_as_they_should_be_written() {
    let help = |date: &str, value: &str| {
        helps(&format!("date;round;section;measure;value\n{date};fresh;A1;gloss-20;{value}\n")).join("; ")
    };
    assert_eq!(help("2026-03-11", "1.030,8"), "write `1030.8` if that is meant");
    assert_eq!(help("2026-03-11", "1,030.8"), "write `1030.8` if that is meant");
    assert_eq!(
        help("31.02.2025", "88.4"),
        "look up the day that is meant; the last of that month is `2025-02-28`"
    );
    assert_eq!(help("05.03.25", "88.4"), "write the year in four and first, as `2025-03-05`");
    assert_eq!(help("05/03/25", "88.4"), "write the year in four and first: `2025-03-05` or `2025-05-03`");
    assert_eq!(help("5 Mar 2025", "88.4"), "write `2025-03-05`");
    assert!(help("45721", "88.4").ends_with("so that it has `2025-03-05`"));
}

#[test]
fn rounds_go_by_the_words_of_the_pages_and_by_their_time() {
    for round in ["Monat 6", "6 months", "6 month", "month-6"] {
        let text = format!("date;round;section;measure;value\n2026-09-11;{round};A1;gloss-20;88.4\n");
        assert_eq!(read_sound(&text).len(), 1, "{round}");
    }
}

#[test]
fn a_comma_that_is_taken_points_at_one_place_only() {
    let row = "2026-03-11;fresh;A1;gloss-20;88,4\n";
    let (_, findings) = read_text(&format!("date;round;section;measure;value\n{row}{row}{row}"));
    assert_eq!((findings.len(), findings[0].related.len()), (1, 0));
}

//! The two forms of a file, their headings and separators, and what is taken without a word.

use super::{cell, read_bytes, read_sound, read_text, study, told};
use tapeline::readings::Value;
use tapeline::study::{MeasureId, RoundId};
use tapeline::text::{Located, Span};

fn values(readings: &tapeline::readings::Readings, section: usize) -> Vec<Value> {
    readings.of(&cell(readings, section, 1, 0)).map(|reading| reading.value).collect()
}

#[test]
fn one_reading_a_line_and_one_section_a_line_are_the_same_sheet() {
    let long = read_sound(
        "date,round,section,measure,value,unit,gauge,by\n\
         2026-03-11,fresh,A1,gloss-20,88.4,GU,glossy,K. M.\n\
         2026-03-11,fresh,A1,gloss-20,88.6,GU,glossy,K. M.\n\
         2026-03-11,fresh,A1,gloss-20,88.1,GU,glossy,K. M.\n",
    );
    let sheet = read_sound(
        "date,time,round,section,measure,unit,by,1,2,3,gauge\n\
         2026-03-11,10:20,fresh,A1,gloss-20,GU,K. M.,88.4,88.6,88.1,glossy\n",
    );
    assert_eq!(values(&long, 0), values(&sheet, 0));
    assert_eq!(cell(&long, 0, 1, 0).kept, cell(&sheet, 0, 1, 0).kept);
    for readings in [&long, &sheet] {
        let one = readings.of(&cell(readings, 0, 1, 0)).nth(1).unwrap();
        assert_eq!((one.number, one.gauge, one.by), (2, Some("glossy"), Some("K. M.")));
        assert_eq!(one.date, Some(jiff::civil::date(2026, 3, 11)));
    }
    assert!(sheet.files[0].sheet && !long.files[0].sheet);
}

#[test]
fn headings_go_by_older_words_and_by_those_that_the_study_gives() {
    let readings = read_sound(
        "Date;EVENT;Section;Measure;Value;Unit;Instrument;Operator;Control\n\
         2026-03-11;Fresh;a1;Gloss 20;88.4;GU;glossy;K. M.;no\n",
    );
    assert_eq!(readings.len(), 1);
    let mut own = study::study();
    let at = |text: &str| Located::new(text.to_owned(), Span::default());
    own.readings[0].columns = vec![(at("Feld"), "section".into()), (at("Wert"), "value".into())];
    let text = "date,round,feld,measure,WERT\n2026-03-11,fresh,B4,film,62\n";
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert_eq!((readings.len(), findings.len()), (1, 0), "{findings:?}");
    assert_eq!(cell(&readings, 7, 1, 1).kept.mean(), Some(62.0));
}

#[test]
fn marks_blanks_and_line_ends_of_spreadsheets_are_taken() {
    let text = "\u{feff}sep=;\r\ndate;round;section;measure;value;;\r\n\r\n\
        2026-03-11; fresh ;\"A1\";gloss-20;88.4;;\r\n;;;;;;\r\n2026-03-11;fresh;A1;gloss-20;88.6;;\r\n";
    let readings = read_sound(text);
    assert_eq!(values(&readings, 0), [Value::Taken(88.4), Value::Taken(88.6)]);
    assert_eq!(readings.files[0].rows, 2);
    let tabs = read_sound("date\tround\tsection\tmeasure\tvalue\n2026-03-11\tfresh\tA1\tgloss-20\t88.4\n");
    assert_eq!(tabs.len(), 1);
    let last_line_open = read_sound("date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,88.4");
    assert_eq!(last_line_open.len(), 1);
}

#[test]
fn places_count_bytes_after_a_byte_order_mark() {
    let text = "\u{feff}date,round,section,measure,value\n2026-03-11,fresh,\"A9\",gloss-20,88.4\n";
    let (_, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["2 unknown-section [A9]"]);
}

#[test]
fn what_was_not_read_is_never_zero() {
    let readings = read_sound(
        "date,round,section,measure,value\n\
         2026-03-11,fresh,A1,gloss-20,<0.5\n2026-03-11,fresh,A1,gloss-20,n/a\n\
         2026-03-11,fresh,A1,gloss-20,\n2026-03-11,fresh,A1,gloss-20,-\n2026-03-11,fresh,A1,gloss-20,2\n",
    );
    let not = Value::NotTaken;
    assert_eq!(values(&readings, 0), [Value::BelowGauge(0.5), not, not, not, Value::Taken(2.0)]);
    let cell = cell(&readings, 0, 1, 0);
    // A blank does not say that it was not taken.
    assert_eq!((cell.kept.n, cell.kept.mean(), cell.below_gauge, cell.not_taken), (1, Some(2.0), 1, 2));
    assert_eq!(cell.count(), 2);
}

#[test]
fn a_printed_sheet_waits_and_columns_beyond_the_plan_may_stay_blank() {
    let (readings, findings) = read_text(
        "date,time,round,section,measure,unit,by,1,2,3,4,5\n\
         ,,baseline,A1,gloss-20,GU,,,,,,\n2026-03-11,,fresh,A1,gloss-20,GU,,88.4,,88.1,,\n",
    );
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(values(&readings, 0), [Value::Taken(88.4), Value::NotTaken, Value::Taken(88.1)]);
    assert_eq!((readings.files[0].waiting, readings.files[0].rows), (1, 2));
    assert!(!readings.has_round(RoundId::new(0)) && readings.has_round(RoundId::new(1)));
    let numbers: Vec<u32> = readings.of(&cell(&readings, 0, 1, 0)).map(|one| one.number).collect();
    assert_eq!(numbers, [1, 2, 3]);
}

#[test]
fn a_study_of_one_measure_needs_no_column_for_it() {
    let mut own = study::study();
    own.measures.truncate(1);
    let text = "date,round,section,value\n2026-03-11,fresh,A1,88.4\n";
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(cell(&readings, 0, 1, 0).measure, MeasureId::new(0));
    let (_, findings) = read_text(text);
    assert_eq!(told(text, &findings), ["1 column-missing [date,round,section,value]"]);
}

#[test]
fn units_of_one_kind_are_turned_into_that_of_the_measure() {
    let readings = read_sound(
        "date,round,section,measure,value,unit\n2026-03-11,fresh,A1,film,2,mil\n2026-03-11,fresh,A1,Film Thickness,<1,mil\n",
    );
    let list: Vec<Value> = readings.of(&cell(&readings, 0, 1, 1)).map(|one| one.value).collect();
    // International yard and pound agreement, 1959: 1 mil is 25.4 um.
    assert_eq!(list, [Value::Taken(50.8), Value::BelowGauge(25.4)]);
}

#[test]
fn a_decimal_comma_is_taken_between_semicolons_and_said_once() {
    let text = "date;round;section;measure;value\n2026-03-11;fresh;A1;gloss-20;88,4\n2026-03-11;fresh;A1;gloss-20;<0,5\n";
    let (readings, findings) = read_text(text);
    assert_eq!(values(&readings, 0), [Value::Taken(88.4), Value::BelowGauge(0.5)]);
    assert_eq!(told(text, &findings), ["2 decimal-comma advice[88,4]"]);
    assert_eq!(findings[0].message, "2 readings with a decimal comma: `88,4` is read as 88.4");
    let text = "date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,\"88,4\"\n";
    assert_eq!(told(text, &read_text(text).1), ["2 decimal-comma [88,4]"]);
}

#[test]
fn gloss_above_a_hundred_is_legal() {
    let readings = read_sound("date,round,section,measure,value\n2026-03-11,fresh,A1,gloss-20,104.2\n");
    assert_eq!(cell(&readings, 0, 1, 0).kept.mean(), Some(104.2));
}

//! Readings that the study leaves out: found by number and value, kept in the list, gone from the mean.

use super::study::{leave_out, study};
use super::{cell, read_bytes};
use tapeline::diag::Finding;
use tapeline::readings::{Input, Readings};
use tapeline::study::LeaveOut;
use tapeline::text::FileId;

const LONG: &str = "date,round,section,measure,value\n2026-09-03,month 6,A1,gloss-20,80\n\
    2026-09-03,month 6,A1,gloss-20,58.7\n2026-09-03,month 6,A1,gloss-20,82\n2026-09-03,month 6,A1,gloss-20,80\n";
const SHEET: &str = "date,round,section,measure,1,2,3,4\n2026-09-03,month 6,A1,gloss-20,80,58.7,82,80\n";

fn read_without(text: &str, statements: Vec<LeaveOut>) -> (Readings, Vec<Finding>) {
    let mut own = study();
    own.readings[0].leave_out = statements;
    read_bytes(&own, text.as_bytes())
}

/// The number of the reading that one statement leaves out.
fn number(text: &str, statement: LeaveOut) -> Result<u32, &'static str> {
    let (readings, findings) = read_without(text, vec![statement]);
    if let Some(finding) = findings.first() {
        return Err(finding.code);
    }
    let cell = cell(&readings, 0, 2, 0);
    let out: Vec<_> = readings.of(&cell).filter(|one| one.left_out == Some(0)).collect();
    assert_eq!((out.len(), cell.left_out, cell.taken, cell.kept.n), (1, 1, 4, 3));
    Ok(out[0].number)
}

#[test]
fn a_reading_left_out_stays_in_the_list_and_leaves_the_mean() {
    let (readings, findings) = read_without(LONG, vec![leave_out(Some(2), Some(58.7))]);
    assert!(findings.is_empty(), "{findings:?}");
    let cell = cell(&readings, 0, 2, 0);
    assert_eq!(readings.of(&cell).count(), 4);
    assert_eq!((cell.kept.n, cell.kept.mean()), (3, Some(242.0 / 3.0)));
    assert_eq!((cell.taken, readings.with_left_out(&cell).min), (4, 58.7));
    assert_eq!(readings.values(&cell), [80.0, 80.0, 82.0]);
}

#[test]
fn number_and_value_find_a_reading() {
    assert_eq!(number(SHEET, leave_out(Some(2), Some(58.7))), Ok(2));
    assert_eq!(number(SHEET, leave_out(None, Some(58.7))), Ok(2));
    assert_eq!(number(SHEET, leave_out(Some(4), None)), Ok(4));
    assert_eq!(number(SHEET, leave_out(Some(4), Some(80.0))), Ok(4));
    assert_eq!(number(SHEET, leave_out(None, Some(80.0))), Err("left-out-ambiguous"));
    assert_eq!(number(SHEET, leave_out(Some(3), Some(58.7))), Err("left-out-not-found"));
    assert_eq!(number(SHEET, leave_out(Some(9), None)), Err("left-out-not-found"));
    assert_eq!(number(SHEET, leave_out(None, None)), Err("left-out-ambiguous"));
}

#[test]
fn where_the_file_gives_no_numbers_the_value_decides() {
    assert_eq!(number(LONG, leave_out(Some(2), Some(58.7))), Ok(2));
    // The order of rows is no number, so another one does not hide the value.
    assert_eq!(number(LONG, leave_out(Some(3), Some(58.7))), Ok(2));
    assert_eq!(number(LONG, leave_out(Some(4), Some(80.0))), Ok(4));
    assert_eq!(number(LONG, leave_out(None, Some(80.0))), Err("left-out-ambiguous"));
    assert_eq!(number(LONG, leave_out(Some(2), None)), Err("left-out-ambiguous"));
    assert_eq!(number(LONG, leave_out(None, Some(99.0))), Err("left-out-not-found"));
}

#[test]
fn two_statements_never_take_the_same_reading() {
    let twice = vec![leave_out(None, Some(58.7)), leave_out(None, Some(58.7))];
    let (readings, findings) = read_without(LONG, twice);
    assert_eq!(cell(&readings, 0, 2, 0).left_out, 1);
    assert_eq!(findings.iter().map(|one| one.code).collect::<Vec<_>>(), ["left-out-not-found"]);
    let pair = vec![leave_out(Some(1), Some(80.0)), leave_out(Some(4), Some(80.0))];
    let (readings, findings) = read_without(LONG, pair);
    assert!(findings.is_empty(), "{findings:?}");
    let statements: Vec<Option<usize>> =
        readings.of(&cell(&readings, 0, 2, 0)).map(|one| one.left_out).collect();
    assert_eq!(statements, [Some(0), None, None, Some(1)]);
}

#[test]
fn findings_name_the_readings_that_are_there() {
    let (_, findings) = read_without(SHEET, vec![leave_out(Some(2), Some(57.8))]);
    assert_eq!(findings[0].message, "gloss-20 of A1 at month 6 has no reading 2 of 57.8 GU to leave out");
    assert_eq!(
        findings[0].help,
        ["its readings in GU, with their numbers, are 80 (1), 58.7 (2), 82 (3) and 80 (4)"]
    );
    let (_, findings) = read_without(SHEET, vec![leave_out(None, Some(80.0))]);
    assert_eq!(findings[0].help, ["give the number of the reading, as `reading 4`"]);
    assert_eq!(findings[0].related.len(), 2);
}

#[test]
fn a_value_turned_from_another_unit_is_still_found() {
    let mut own = study();
    own.readings[0].leave_out =
        vec![LeaveOut { measure: tapeline::study::MeasureId::new(1), ..leave_out(None, Some(76.2)) }];
    let text = "date,round,section,measure,value,unit\n2026-09-03,month 6,A1,film,3,mil\n";
    let (readings, findings) = read_bytes(&own, text.as_bytes());
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(cell(&readings, 0, 2, 1).left_out, 1);
}

#[test]
fn an_absent_file_says_nothing_about_its_statements() {
    let mut own = study();
    own.readings[0].leave_out = vec![leave_out(None, Some(58.7))];
    let (readings, findings) = tapeline::readings::read(&own, &[]);
    assert!(findings.is_empty() && readings.is_empty());
}

/// One cause is one finding: where the row of the reading could not be placed, the statement is right.
#[test]
fn a_statement_is_not_blamed_for_a_file_or_a_row_that_cannot_be_read() {
    let codes = |text: &str| -> Vec<&'static str> {
        let (_, findings) = read_without(text, vec![leave_out(Some(2), Some(58.7))]);
        findings.iter().map(|one| one.code).collect()
    };
    assert_eq!(codes(&SHEET.replace("round", "Runde")), ["column-missing"]);
    assert_eq!(codes(&SHEET.replace("month 6", "18 months")), ["unknown-round"]);
    assert_eq!(codes(&SHEET.replace("A1", "Z9")), ["unknown-section"]);
    assert_eq!(codes(""), ["readings-empty"]);
    // A fault in another row is no excuse.
    let other = format!("{SHEET}2026-09-03,month 7,B1,gloss-20,80\n").replace("58.7", "57.8");
    assert_eq!(codes(&other), ["left-out-not-found", "unknown-round"]);
}

#[test]
fn a_reading_of_another_file_is_told_with_that_file() {
    let mut own = study();
    own.readings[0].leave_out = vec![leave_out(Some(2), Some(58.7))];
    let mut more = own.readings[0].clone();
    more.leave_out.clear();
    more.name.value = "more.csv".to_owned();
    own.readings.push(more);
    let head = SHEET.split_inclusive('\n').next().unwrap();
    let inputs = [head, SHEET].map(str::as_bytes);
    let inputs = [(1, inputs[0]), (2, inputs[1])];
    let inputs = inputs.map(|(id, bytes)| Some(Input { file: FileId(id), bytes }));
    let (_, findings) = tapeline::readings::read(&own, &inputs);
    // A file without rows may be the one that it will stand in.
    assert!(findings.is_empty(), "{findings:?}");
    let first = format!("{head}2026-09-03,month 6,A1,gloss-20,80,81,82,80\n").replace("month 6", "fresh");
    let inputs = [Some(Input { file: FileId(1), bytes: first.as_bytes() }), inputs[1]];
    let (_, findings) = tapeline::readings::read(&own, &inputs);
    assert_eq!(findings.len(), 1, "{findings:?}");
    assert_eq!(findings[0].help, ["put this line under `readings \"more.csv\"`"]);
    assert_eq!(findings[0].related.len(), 1);
}

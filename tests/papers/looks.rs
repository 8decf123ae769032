//! The looks that are adjusted together are those that the report shows, and it says how many they are.

#![allow(clippy::disallowed_methods, reason = "tests read their own files")]

use std::fs;

/// Numbers in the columns headed `p (Holm)`, and words that a look is counted without one, but for those of trends, which are adjusted within their own table.
fn shown(report: &str) -> usize {
    let lines: Vec<&str> = report.lines().collect();
    let tables = lines.split(|line| !line.starts_with('|'));
    let cells = |row: &str| -> Vec<String> {
        row.trim_matches('|').split('|').map(|cell| cell.trim().to_owned()).collect()
    };
    let of = |table: &[&str]| {
        let heads = table.first().map(|row| cells(row)).unwrap_or_default();
        let column = heads.iter().position(|head| head == "p (Holm)");
        let column = column.filter(|_| !heads.contains(&"Trend".to_owned()));
        let digits = |at: usize, row: &&str| {
            cells(row)[at].contains(|one: char| one.is_ascii_digit()) || cells(row)[at] == "counted"
        };
        column.map_or(0, |at| table.iter().skip(2).filter(|row| digits(at, row)).count())
    };
    tables.map(of).sum()
}

/// Every number before "further looks" in the report.
fn said(report: &str) -> Vec<usize> {
    let parts: Vec<&str> = report.split(" further looks").collect();
    let before = parts[..parts.len() - 1].iter();
    before.filter_map(|part| part.rsplit(' ').next()?.parse().ok()).collect()
}

#[test]
fn the_family_after_holm_is_what_the_report_shows() {
    let mut counted = 0;
    for study in ["bench-slats", "coach-door", "foredeck", "marked-cladding"] {
        let path = format!("{}/tests/golden/{study}/report.md", env!("CARGO_MANIFEST_DIR"));
        let report = fs::read_to_string(path).unwrap();
        let (shown, said) = (shown(&report), said(&report));
        assert!(shown > 0 && !said.is_empty(), "{study}: {shown} and {said:?}");
        assert!(said.iter().all(|&said| said == shown), "{study}: {shown} shown, {said:?} said");
        counted += shown;
    }
    assert!(counted > 200, "{counted}");
}

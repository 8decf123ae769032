//! `readings.csv`: every reading as it was placed, one a row.

use super::desk::Desk;
use super::fault::Fault;
use crate::report::{COLUMNS, CellRows, Material, ReadingRow, reading_cells};
use std::borrow::Cow;

/// A row of a large file is hardly longer.
const BYTES_A_ROW: usize = 72;

// Each part of a row is made anew only where it differs from the row before, which few parts of a million rows do.
#[allow(clippy::unnecessary_wraps, reason = "every output has this signature")]
pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let mut out = String::with_capacity((material.readings.len() + 1) * BYTES_A_ROW);
    out += &record(COLUMNS.map(|column| column.name).as_slice());
    out.push('\n');
    for cell in reading_cells(material) {
        push_cell(&mut out, material, &cell);
    }
    Ok(out)
}

fn push_cell<'a>(out: &mut String, material: &'a Material<'a>, cell: &CellRows<'a>) {
    let round = cell.step.map_or(Cow::Borrowed(cell.round), |step| format!("{} {step}", cell.round).into());
    let shared = record(&[&round, cell.section, cell.treatment, cell.measure]);
    let behind = |row: &ReadingRow<'_>| record(&[cell.unit, row.gauge, row.by, row.left_out, row.note]);
    let day = |row: &ReadingRow<'_>| row.date.map_or_else(String::new, |date| date.to_string());
    let mut last: Option<(ReadingRow<'_>, String, String)> = None;
    for row in cell.readings(material) {
        let (date, rest) = match last.take() {
            Some((before, date, rest)) => (
                if before.date == row.date { date } else { day(&row) },
                if before.is_taken_as(&row) { rest } else { behind(&row) },
            ),
            None => (day(&row), behind(&row)),
        };
        let number = row.reading.to_string();
        for part in [&date, ",", &shared, ",", &number, ",", &quoted(&row.value), ",", &rest, "\n"] {
            out.push_str(part);
        }
        last = Some((row, date, rest));
    }
}

fn record(cells: &[&str]) -> String {
    let cells: Vec<Cow<'_, str>> = cells.iter().map(|cell| quoted(cell)).collect();
    cells.join(",")
}

// RFC 4180, section 2: a cell with a separator, a quote or a line end stands in quotes, its own quotes doubled.
fn quoted(cell: &str) -> Cow<'_, str> {
    let cell = plain(cell);
    if cell.bytes().any(|byte| matches!(byte, b',' | b'"' | b'\n' | b'\r')) {
        format!("\"{}\"", cell.replace('"', "\"\"")).into()
    } else {
        cell
    }
}

// A spreadsheet runs a text that begins like a formula; an apostrophe keeps it a text (CWE-1236).
// Negative numbers stay numbers.
pub(super) fn plain(cell: &str) -> Cow<'_, str> {
    let formula = match cell.as_bytes().first() {
        Some(b'=' | b'+' | b'@' | b'\t' | b'\r') => true,
        Some(b'-') => cell.parse::<f64>().is_err(),
        _ => false,
    };
    if formula { format!("'{cell}").into() } else { cell.into() }
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_cell_is_quoted_as_a_library_of_its_own_quotes_it() {
        for cell in
            ["", "plain", "a,b", "say \"so\"", "two\nlines", "a\rb", "ä; ö", " blank ", "'", "-1.5", "#"]
        {
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record([cell, "end"]).expect("memory");
            let expected = String::from_utf8(writer.into_inner().expect("memory")).expect("UTF-8");
            assert_eq!(format!("{},end\n", quoted(cell)), expected);
        }
    }
}

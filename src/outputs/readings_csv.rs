//! `readings.csv`: every reading as it was placed, one a row.

use super::fault::Fault;
use crate::report::{COLUMNS, Material, reading_rows};
use std::borrow::Cow;

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let fault = |error: String| Fault::new(format!("readings.csv: {error}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(COLUMNS.map(|column| column.name)).map_err(|error| fault(error.to_string()))?;
    for row in reading_rows(material) {
        let number = row.reading.to_string();
        let cells = [
            row.date.as_str(),
            &row.round,
            row.section,
            row.treatment,
            row.measure,
            &number,
            &row.value,
            row.unit,
            row.gauge,
            row.by,
            row.left_out,
        ];
        let cells = cells.map(plain);
        writer
            .write_record(cells.iter().map(AsRef::<str>::as_ref).map(str::as_bytes))
            .map_err(|error| fault(error.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|error| fault(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| fault(error.to_string()))
}

// A spreadsheet runs a text that begins like a formula; an apostrophe keeps it a text (CWE-1236).
// Negative numbers stay numbers.
pub(super) fn plain(cell: &str) -> Cow<'_, str> {
    let formula = cell.starts_with(['=', '+', '@', '\t', '\r'])
        || (cell.starts_with('-') && cell.parse::<f64>().is_err());
    if formula { format!("'{cell}").into() } else { cell.into() }
}

//! The empty record as a table, which `print` writes beside the checklist where the study names a record file.

use super::Artifact;
use super::fault::Fault;
use crate::report::EmptyRecord;

/// The table under a name, as the reader of record files takes it.
///
/// # Errors
/// A row that the writer of tables does not take, which is a fault of the tool.
pub fn empty_record(name: &str, record: &EmptyRecord) -> Result<Artifact, Fault> {
    let fault = |error: String| Fault::new(format!("{name}: {error}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&record.headings).map_err(|error| fault(error.to_string()))?;
    for row in &record.rows {
        let blank = std::iter::repeat_n("", record.headings.len() - row.len());
        let row = row.iter().map(String::as_str).chain(blank);
        writer.write_record(row).map_err(|error| fault(error.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|error| fault(error.to_string()))?;
    Ok(Artifact { name: name.to_owned(), bytes })
}

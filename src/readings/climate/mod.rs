//! Files of climate: air, humidity, surface, wetness and sun by the clock of the site.
//!
//! A row stands for the time up to the next one, or for the usual distance of the rows where the next is late; what is
//! left between them is a gap in the record and never filled.

mod columns;
mod conditions;
mod met;
mod model;
mod rows;
mod wording;

pub use conditions::Conditions;
pub use met::CoatHour;
pub(super) use met::coat_hours;
pub use model::{Climate, ClimatePart, ClimateRow, seconds_between};
pub(super) use rows::ClimateWrong;
pub(super) use wording::told;

use super::faults::Faults;
use super::model::FileState;
use super::{Input, wording as words};
use crate::diag::Finding;
use crate::study::Study;
use crate::table;
use crate::units::Quantity;
use jiff::civil::Date;

/// Reads the climate file that stands at a place in the list of the study; `None` is an absent file.
pub(super) fn read(
    study: &Study,
    at: usize,
    input: Option<Input<'_>>,
    as_of: Option<Date>,
    findings: &mut Vec<Finding>,
) -> Climate {
    let (Some(input), Some(declared)) = (input, study.climate.get(at)) else { return Climate::default() };
    let state = FileState { file: Some(input.file), ..FileState::default() };
    let unread = Climate { state: FileState { unread: true, ..state }, ..Climate::default() };
    let text = match table::text(input.file, input.bytes) {
        Ok(text) => text,
        Err(finding) => {
            findings.push(*finding);
            return unread;
        }
    };
    let Some(header) = table::header(text) else {
        findings.push(table::empty(input.file, "climate", "time,air degC,humidity %"));
        return Climate { state, ..Climate::default() };
    };
    let Some(columns) = columns::columns(declared, (input.file, text), &header, findings) else {
        return unread;
    };
    let comma = header.separator == b';';
    let mut reader = rows::Reader { text, columns: &columns, as_of, comma, faults: Faults::default(), state };
    let declared_s = declared.each_row.map(Quantity::seconds);
    let (rows, step_s) = reader.read(header.separator, header.row.end, declared_s);
    let (state, faults) = (reader.state, std::mem::take(&mut reader.faults));
    findings.extend(words::findings(study, input.file, faults.into_list()));
    if state.rows == 0 {
        findings.push(table::without_rows(input.file, "climate"));
    }
    let parts = columns.values.iter().map(|column| column.part).collect();
    Climate { state, step_s, parts, rows }
}

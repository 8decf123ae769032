//! `report.md`: the comparison report as Markdown, the one text from which the HTML report is made.

use super::desk::Desk;
use super::fault::Fault;
use crate::report::ReportView;
use crate::speech::say;

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    desk.text().map(str::to_owned)
}

/// The last line of a report.
pub(super) fn made_by(view: &ReportView) -> String {
    say!("Made by tapeline {version} {as_of}.", version = view.version, as_of = view.as_of)
}

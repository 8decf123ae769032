//! `findings.json`: every finding for machines, in file order and never cut.

use super::desk::Desk;
use super::fault::Fault;
use crate::diag::json;

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    json(material.findings, material.sources, material.version, material.date)
        .map_err(|error| Fault::new(error.to_string()))
}

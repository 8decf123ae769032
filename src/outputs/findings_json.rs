//! `findings.json`: every finding for machines, in file order and never cut.

use super::fault::Fault;
use crate::diag::json;
use crate::report::Material;

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    json(material.findings, material.sources, material.version, material.date)
        .map_err(|error| Fault::new(error.to_string()))
}

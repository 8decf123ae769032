//! How a thing is packed, where the pack itself is a hazard.

use serde::Deserialize;

use super::source::Source;

/// A pack that has a label of its own besides that of its content.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Packing {
    /// The word of the language.
    pub id: &'static str,
    /// Its name in print.
    pub called: &'static str,
    /// Codes of hazard statements that it adds.
    #[serde(borrow)]
    pub statements: Vec<&'static str>,
    /// Codes of precautionary statements that it adds.
    #[serde(borrow)]
    pub precautions: Vec<&'static str>,
    /// Codes of pictograms that it adds.
    #[serde(borrow)]
    pub pictograms: Vec<&'static str>,
    /// Codes of hazard statements that the content does not give beside these.
    #[serde(borrow)]
    pub displaced: Vec<&'static str>,
    /// What shifts its label.
    pub note: &'static str,
    /// A caution of its use.
    pub caution: &'static str,
    /// What stands in place of a flash point.
    pub flash: &'static str,
    /// Storage.
    pub keep: &'static str,
    /// Waste.
    pub waste: &'static str,
    /// Source of this label.
    pub source: Source,
}

/// The file of packings.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct PackingFile {
    #[serde(rename = "packing")]
    pub(super) packings: Vec<Packing>,
}

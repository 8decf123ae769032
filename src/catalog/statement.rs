//! Wording of hazard statements, precautionary statements and pictograms.

use serde::Deserialize;

use super::class::Signal;
use super::source::Source;

/// A hazard statement in the wording of the regulation.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hazard {
    /// `H225` or `EUH031`.
    pub code: &'static str,
    /// The wording.
    pub text: &'static str,
    /// Pictogram of the usual category, where it has one.
    pub pictogram: Option<&'static str>,
    /// Signal word of the usual category.
    pub signal: Signal,
    /// Hazard class and usual category in short, `Flam. Liq. 2`; empty for supplements, which have none.
    pub category: &'static str,
    /// Codes of precautionary statements that the category may carry (UN GHS, Annex 3); none where no class carries it.
    #[serde(borrow, default)]
    pub precautions: Vec<&'static str>,
    /// Source of the wording.
    pub source: Source,
}

/// A precautionary statement in the wording of the UN GHS.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Precaution {
    /// `P210` or a combination, `P305+P351+P338`.
    pub code: &'static str,
    /// The wording.
    pub text: &'static str,
    /// The wording with the gaps that it leaves to the supplier filled, where it has such.
    pub filled: Option<&'static str>,
    /// Source of the wording.
    pub source: Source,
}

impl Precaution {
    /// The wording as the papers print it.
    pub fn printed(&self) -> &'static str {
        self.filled.unwrap_or(self.text)
    }
}

/// A hazard pictogram.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pictogram {
    /// `GHS01` to `GHS09`.
    pub code: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Source of the name.
    pub source: Source,
}

/// The file of statements.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct StatementFile {
    #[serde(rename = "hazard")]
    pub(super) hazards: Vec<Hazard>,
    #[serde(rename = "precaution")]
    pub(super) precautions: Vec<Precaution>,
    /// What only bottles and data sheets name, and the parts of combinations.
    #[serde(rename = "former", default)]
    pub(super) former: Vec<Precaution>,
    #[serde(rename = "pictogram")]
    pub(super) pictograms: Vec<Pictogram>,
}

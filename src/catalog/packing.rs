//! How a thing is packed, where the pack itself is a hazard.

use serde::Deserialize;

use super::class::Class;
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
    /// Eye protection that its mist asks for.
    pub eyes: &'static str,
    /// The filter that its mist asks for.
    pub breathing: &'static str,
    /// The types and classes of that filter (EN 14387).
    #[serde(borrow)]
    pub filter: Vec<&'static str>,
    /// Reactivity groups whose own breathing protection says more.
    #[serde(borrow)]
    pub unless_breathing: Vec<&'static str>,
    /// What stands in place of a flash point.
    pub flash: &'static str,
    /// Storage.
    pub keep: &'static str,
    /// Waste.
    pub waste: &'static str,
    /// Source of this label.
    pub source: Source,
}

impl Packing {
    /// The filter that it asks for with a content; `None` where that of the content says more.
    pub fn breathing_with(&self, content: Option<&Class>) -> Option<&'static str> {
        let more = |class: &Class| self.unless_breathing.iter().any(|group| class.is_in(group));
        (!content.is_some_and(more)).then_some(self.breathing)
    }
}

/// The file of packings.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct PackingFile {
    #[serde(rename = "packing")]
    pub(super) packings: Vec<Packing>,
}

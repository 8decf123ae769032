//! Protection and first aid: things that a study lists as supplies and that are no chemicals.

use serde::Deserialize;

use super::name::same_name;
use super::source::Source;

/// Something that protects or helps whoever does the work.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gear {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// Words that name it; all words of one phrase stand in its name and kind.
    #[serde(borrow)]
    pub phrases: Vec<&'static str>,
    /// What it is for.
    pub what: &'static str,
    /// Source of this entry.
    pub source: Source,
}

/// The file of gear.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct GearFile {
    /// Words of liquids and powders, which are no gear.
    pub(super) unless: Vec<&'static str>,
    #[serde(rename = "gear")]
    pub(super) gear: Vec<Gear>,
}

impl GearFile {
    /// What the words of a name and a kind name.
    pub(super) fn named(&self, text: &str) -> Option<&Gear> {
        let words: Vec<&str> =
            text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        let said = |word: &str| words.iter().any(|own| same_name(own, word));
        if self.unless.iter().any(|word| said(word)) {
            return None;
        }
        self.gear.iter().find(|gear| gear.phrases.iter().any(|phrase| phrase.split(' ').all(said)))
    }
}

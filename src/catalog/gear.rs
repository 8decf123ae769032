//! Protection and first aid: things that a study lists as supplies and that are no chemicals.

use serde::Deserialize;

use super::source::Source;
use super::words::Words;

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
        let words = Words::of(text);
        if words.say(&self.unless) {
            return None;
        }
        let named = |phrase: &&str| phrase.split(' ').all(|word| words.say(&[word]));
        self.gear.iter().find(|gear| gear.phrases.iter().any(named))
    }
}

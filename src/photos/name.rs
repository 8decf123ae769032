//! Names of photo files: section and round in either order, in any case, with whatever stands between them.

use crate::study::{RoundId, SectionId, Study};
use std::collections::BTreeMap;

/// Every name that a photo of a study may have.
pub(super) struct Names {
    known: BTreeMap<String, Vec<(SectionId, RoundId)>>,
}

impl Names {
    pub(super) fn of(study: &Study) -> Self {
        let mut known: BTreeMap<String, Vec<(SectionId, RoundId)>> = BTreeMap::new();
        for (section, about) in study.sections_with_ids() {
            let code = plain(&about.code);
            for (round, named) in study.rounds_with_ids() {
                let name = plain(&named.name.value);
                for both in [format!("{code}{name}"), format!("{name}{code}")] {
                    let places = known.entry(both).or_default();
                    if !places.contains(&(section, round)) {
                        places.push((section, round));
                    }
                }
            }
        }
        Self { known }
    }

    /// The places that a file name fits. A number behind it, set apart, counts the shots of one place.
    pub(super) fn places(&self, file: &str) -> Vec<(SectionId, RoundId)> {
        let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
        let found = |stem: &str| self.known.get(&plain(stem)).cloned();
        let shot = || {
            let stem = stem.trim_end_matches(|c: char| !c.is_alphanumeric());
            let (before, number) = stem.rsplit_once(|c: char| !c.is_alphanumeric())?;
            number.bytes().all(|byte| byte.is_ascii_digit()).then(|| found(before)).flatten()
        };
        found(stem).or_else(shot).unwrap_or_default()
    }
}

/// Letters and figures alone, in small letters.
fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

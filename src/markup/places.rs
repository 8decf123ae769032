//! Names of the places that headings make, as usual readers of Markdown name them, so that one link leads there in each.

use std::collections::BTreeSet;

/// The places of one page, each with a name of its own.
#[derive(Debug, Default)]
pub struct Places {
    taken: BTreeSet<String>,
}

impl Places {
    /// A page without headings.
    pub fn new() -> Self {
        Self::default()
    }

    /// The place of the next heading with these words: small letters, blanks as hyphens, signs left out; one that is
    /// taken gets a number (common practice, no source).
    pub fn of(&mut self, words: &str) -> String {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let kept = words.chars().filter_map(|c| match c {
            ' ' => Some('-'),
            c if c.is_alphanumeric() || matches!(c, '-' | '_') => Some(c),
            _ => None,
        });
        let name: String = kept.collect();
        let name = if name.is_empty() { "part".to_owned() } else { name };
        let numbered = (1..).map(|number| format!("{name}-{number}"));
        let mut free =
            std::iter::once(name.clone()).chain(numbered).filter(|name| !self.taken.contains(name));
        let place = free.next().unwrap_or_default();
        self.taken.insert(place.clone());
        place
    }
}

#[cfg(test)]
mod tests {
    use super::Places;

    #[test]
    fn places_are_plain_and_never_the_same() {
        let mut places = Places::new();
        let named = ["Gloss-20 changed: by −23.7 to +1.5 GU", "Über Öl", "*", "*", "Six", "six"];
        let found = named.map(|words| places.of(words));
        assert_eq!(found, ["gloss-20-changed-by-237-to-15-gu", "über-öl", "part", "part-1", "six", "six-1"]);
    }
}

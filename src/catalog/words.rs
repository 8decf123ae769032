//! Words in a free text: whole ones, words that belong together, and parts of compounds, as German writes them.

/// The words of a text in small letters, with `ae`, `oe`, `ue` and `ss` for the letters that English has not.
#[derive(Debug, Clone)]
pub struct Words(Vec<String>);

impl Words {
    /// Cuts a text into words.
    pub fn of(text: &str) -> Self {
        let mut words: Vec<String> = Vec::new();
        let mut word = String::new();
        for letter in text.chars().flat_map(char::to_lowercase) {
            match letter {
                // A mark that is written behind its vowel, as some keyboards and disks do.
                'ä' | 'ö' | 'ü' | '\u{308}' => {
                    word.extend(match letter {
                        'ä' => Some('a'),
                        'ö' => Some('o'),
                        'ü' => Some('u'),
                        _ => None,
                    });
                    word.push('e');
                }
                'ß' => word.push_str("ss"),
                _ if letter.is_alphanumeric() => word.push(letter),
                _ => words.extend(Some(std::mem::take(&mut word)).filter(|word| !word.is_empty())),
            }
        }
        words.extend(Some(word).filter(|word| !word.is_empty()));
        Self(words)
    }

    /// The words before the last one that is one of `of`; all where none is.
    pub(super) fn before_last(mut self, of: &[&str]) -> Self {
        let cut = self.0.iter().rposition(|word| of.contains(&word.as_str()));
        self.0.truncate(cut.unwrap_or(self.0.len()));
        self
    }

    /// Without the words that fit one of the patterns.
    pub(super) fn without(mut self, patterns: &[&str]) -> Self {
        self.0.retain(|word| !patterns.iter().any(|pattern| fits(pattern, word)));
        self
    }

    /// Whether one of the patterns stands here: `roof` is that word, `landing stage` are two that follow one another, `*dach` is a
    /// word that ends so, `holz*` one that begins so, `*sprueh*` one that holds it.
    pub fn say(&self, patterns: &[&str]) -> bool {
        patterns.iter().any(|pattern| self.says(pattern))
    }

    /// The same, where none of the words of `denial` stands directly before it.
    pub fn say_undenied(&self, patterns: &[&str], denial: &[&str]) -> bool {
        let denied = |at: usize| at > 0 && denial.contains(&self.0[at - 1].as_str());
        patterns.iter().any(|pattern| self.places(pattern).any(|at| !denied(at)))
    }

    fn says(&self, pattern: &str) -> bool {
        self.places(pattern).next().is_some()
    }

    /// Where a pattern begins.
    fn places<'a>(&'a self, pattern: &'a str) -> impl Iterator<Item = usize> + 'a {
        let long = pattern.split(' ').count();
        let stands = move |own: &[String]| pattern.split(' ').zip(own).all(|(part, word)| fits(part, word));
        self.0.windows(long).enumerate().filter(move |(_, own)| stands(own)).map(|(at, _)| at)
    }
}

fn fits(pattern: &str, word: &str) -> bool {
    match (pattern.strip_prefix('*'), pattern.strip_suffix('*')) {
        (None, None) => pattern == word,
        (Some(tail), None) => word.ends_with(tail),
        (None, Some(head)) => word.starts_with(head),
        (Some(rest), Some(_)) => word.contains(rest.trim_end_matches('*')),
    }
}

#[cfg(test)]
mod tests {
    use super::Words;

    #[test]
    fn words_are_known_whole_in_a_row_and_by_their_parts() {
        let says = |text: &str, pattern: &str| Words::of(text).say(&[pattern]);
        assert!(says("On the Roof, east", "roof") && !says("roofing felt", "roof"));
        assert!(
            says("landing-stage of the club", "landing stage") && !says("stage landing", "landing stage")
        );
        assert!(says("Flachdach", "*dach") && says("dach", "*dach") && !says("Dachs", "*dach"));
        assert!(says("Holzwand", "holz*") && says("Niederdrucksprüher", "*sprueh*"));
        // The same letters, written in two ways.
        assert!(says("Spru\u{308}hflasche", "*sprueh*") && says("SPRUEHFLASCHE", "*sprueh*"));
        assert!(says("Heißluft", "heissluft*"));
    }
}

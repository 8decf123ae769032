//! A heading is a word, with its unit behind it or in brackets: `air degC`, `Air (°C)`, `air, degC`.

/// The word of a heading by a function that knows words, and its unit where it has one.
pub fn word_and_unit<C>(text: &str, known: impl Fn(&str) -> Option<C>) -> (Option<C>, Option<String>) {
    if let Some(at) = text.find(['(', '[', ',']) {
        let unit = text[at..].trim_matches(|c: char| c.is_whitespace() || "([,])".contains(c)).to_owned();
        return (known(&text[..at]), Some(unit).filter(|unit| !unit.is_empty()));
    }
    // The longest beginning that is a known word.
    let words: Vec<&str> = text.split([' ', '\t', '_', '\u{a0}']).filter(|word| !word.is_empty()).collect();
    for length in (1..=words.len()).rev() {
        if let Some(column) = known(&words[..length].join(" ")) {
            let unit = words[length..].join(" ");
            let unit = unit.strip_prefix("in ").unwrap_or(&unit);
            return (Some(column), (!unit.is_empty()).then(|| unit.to_owned()));
        }
    }
    (None, None)
}

/// Words in small letters with one blank between them; hyphens and underscores part words too.
pub fn folded(text: &str) -> String {
    let words = text.split([' ', '\t', '-', '_', '\u{a0}']).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

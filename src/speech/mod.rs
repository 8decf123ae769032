//! The language of a page: which one is spoken, and what a sentence of ours is in it.
//!
//! The English sentence in the code is the key, as in a phrase book: [`say!`] looks it up in the catalogue of the
//! language that is spoken, and English needs no catalogue at all.

mod quantity;

pub use quantity::{day, decimal_mark, marked, quantity, round_name, tight, unit};

use crate::diag;
use std::cell::Cell;
use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::OnceLock;

/// A language that pages are written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Language {
    /// The language of the code.
    #[default]
    English,
    /// German.
    German,
}

/// Every language, by the word that a study asks for it with.
pub const LANGUAGES: &[(&str, Language)] = &[("english", Language::English), ("german", Language::German)];

impl Language {
    /// Its tag in HTML, after BCP 47.
    pub fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }
}

thread_local! {
    // Views and templates speak deep inside; the entry functions of `report` and `outputs` say once in which language.
    static SPOKEN: Cell<Language> = const { Cell::new(Language::English) };
}

/// Ends with the language that was spoken before.
#[derive(Debug)]
#[must_use = "the language is spoken as long as this lives"]
pub struct Speech {
    before: Language,
}

impl Drop for Speech {
    fn drop(&mut self) {
        SPOKEN.set(self.before);
    }
}

/// Speaks a language on this thread, as long as what is returned lives.
pub fn speak(language: Language) -> Speech {
    Speech { before: SPOKEN.replace(language) }
}

/// The language that is spoken.
pub fn spoken() -> Language {
    SPOKEN.get()
}

/// A catalogue: what is said, by what it is in English.
#[derive(Debug, Default, serde::Deserialize)]
struct Catalogue {
    /// Sentences of the code and the templates.
    sentences: BTreeMap<String, String>,
    /// Texts of tables of data.
    given: BTreeMap<String, String>,
    /// Nouns that are counted, one and many.
    nouns: BTreeMap<String, [String; 2]>,
}

// A catalogue is read when something is first said in its language, so that English never waits for it.
fn catalogue() -> Option<&'static Catalogue> {
    static GERMAN: OnceLock<Catalogue> = OnceLock::new();
    match spoken() {
        Language::English => None,
        Language::German => Some(GERMAN.get_or_init(|| {
            // The build script made it from a table that it had read, so it is sound; a test looks up all of it.
            serde_json::from_str(include_str!(concat!(env!("OUT_DIR"), "/german.json"))).unwrap_or_default()
        })),
    }
}

/// What an English sentence is in the language that is spoken; `None` in English, and where the catalogue lacks it.
pub fn translation(english: &str) -> Option<&'static str> {
    let catalogue = catalogue()?;
    catalogue.sentences.get(english).or_else(|| catalogue.given.get(english)).map(String::as_str)
}

/// A sentence or word without holes in the language that is spoken.
pub fn said(english: &str) -> &str {
    translation(english).unwrap_or(english)
}

/// A sentence with its holes filled by name. `{sections:dative}` puts a counted noun into the dative, `{round:at}` and
/// `{round:after}` say a round as a time, `{day:on}` says a day or a span of days as one, and `{round:the}` gives a round its article
/// where it has one.
pub fn filled(sentence: &str, holes: &[(&str, &dyn Display)]) -> String {
    let mut out = String::with_capacity(sentence.len() + 16 * holes.len());
    let mut rest = sentence;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((hole, after)) = after.split_once('}') else { break };
        let (name, case) = hole.split_once(':').unwrap_or((hole, ""));
        if let Some((_, value)) = holes.iter().find(|(known, _)| *known == name) {
            let text = value.to_string();
            out.push_str(&match case {
                "dative" => dative(text),
                "at" => quantity::at_round(&text, "bei"),
                "after" => quantity::at_round(&text, "nach"),
                "on" => on_days(&text),
                "the" => quantity::with_article(&text).unwrap_or(text),
                _ => text,
            });
        }
        rest = after;
    }
    tight(out + rest)
}

// One day, or the first and the last of several.
fn on_days(text: &str) -> String {
    match text.split_once(" bis ") {
        Some((first, last)) => format!("vom {first} bis zum {last}"),
        None => format!("am {text}"),
    }
}

// A counted noun takes an n in the plural, unless it ends with one or is borrowed; a symbol of a unit takes none.
fn dative(text: String) -> String {
    let noun = text.rsplit(' ').next().unwrap_or_default();
    let takes = noun.chars().count() > 2 && noun.ends_with(['e', 'l', 'r']) && !text.starts_with("1 ");
    let text = if takes { text + "n" } else { text };
    text.strip_prefix("alle ").map(|rest| format!("allen {rest}")).unwrap_or(text)
}

/// `1 section`, `3 sections`.
pub fn count(n: usize, noun: &str) -> String {
    format!("{n} {}", plural(n, noun))
}

/// The noun in the number that `n` asks for. A word of the user's has no other number than the one it is written in,
/// save in English.
pub fn plural(n: usize, noun: &str) -> String {
    match catalogue() {
        None => diag::plural(n, noun),
        Some(catalogue) => match catalogue.nouns.get(noun) {
            Some([one, many]) => if n == 1 { one } else { many }.clone(),
            None => noun.to_owned(),
        },
    }
}

/// A heading as a word inside a sentence: with a small letter, save in German, where it is a noun.
pub fn within(heading: &str) -> String {
    match spoken() {
        Language::English => heading.to_lowercase(),
        Language::German => heading.to_owned(),
    }
}

/// `A1`, `A1 and B2`, `A1, B2 and C3`. The last joint is given, as "and" or "or".
pub fn list<S: AsRef<str>>(items: &[S], joint: &str) -> String {
    diag::list(items, said(joint))
}

/// Says a sentence in the language that is spoken: `say!("{product} changed by {by}", product, by = style.signed(x))`.
///
/// Without holes it is a text as static as its key. The English is checked while it is compiled: every hole has its
/// value and every value its hole.
macro_rules! say {
    ($english:literal) => { $crate::speech::said($english) };
    ($english:literal, $($name:ident $(= $value:expr)?),+ $(,)?) => {
        match $crate::speech::translation($english) {
            None => $crate::speech::tight(format!($english, $($name = $crate::speech::say!(@ $name $(= $value)?)),+)),
            Some(sentence) => $crate::speech::filled(
                sentence,
                &[$((stringify!($name), &$crate::speech::say!(@ $name $(= $value)?))),+],
            ),
        }
    };
    (@ $name:ident) => { $name };
    (@ $name:ident = $value:expr) => { $value };
}
pub(crate) use say;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_language_ends_with_its_guard() {
        assert_eq!(count(2, "section"), "2 sections");
        {
            let _german = speak(Language::German);
            assert_eq!(count(2, "section"), "2 Abschnitte");
            assert_eq!(list(&["A1", "B2", "C3"], "and"), "A1, B2 und C3");
            assert_eq!(count(2, "plank"), "2 plank");
        }
        assert_eq!(say!("and"), "and");
    }

    #[test]
    fn holes_are_filled_by_name_in_any_order() {
        let text = filled("{b} vor {a}, von {n:dative}", &[("a", &"x"), ("b", &2), ("n", &"3 Abschnitte")]);
        assert_eq!(text, "2 vor x, von 3 Abschnitten");
        let dative = |text: &'static str| filled("von {n:dative}", &[("n", &text)]);
        assert_eq!(
            ["1 Abschnitt", "2 h", "2 Fotos", "3 Fehler"].map(dative).concat(),
            "von 1 Abschnittvon 2 hvon 2 Fotosvon 3 Fehlern"
        );
    }
}

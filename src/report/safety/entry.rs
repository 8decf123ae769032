//! Small pieces of a card: words with what belongs to them, codes with their wording, sentences with their source.

use crate::catalog::Source;
use crate::speech::said;
use serde::Serialize;

/// A statement with its code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Coded {
    /// `H225`, `P210`, `GHS02`.
    pub code: String,
    /// Its wording.
    pub text: String,
}

/// A few words and what belongs to them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// The words.
    pub label: String,
    /// What belongs to them.
    pub text: String,
}

impl Entry {
    /// An entry from anything that is text.
    pub fn new(label: impl Into<String>, text: impl Into<String>) -> Self {
        Self { label: label.into(), text: text.into() }
    }
}

/// A sentence and where it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sourced {
    /// The sentence.
    pub text: String,
    /// Its source.
    pub source: String,
}

impl Sourced {
    /// A sentence of the catalog.
    pub(super) fn of(text: &'static str, source: Source) -> Self {
        Self { text: said(text).to_owned(), source: said(source.as_str()).to_owned() }
    }
}

//! Where a fact comes from: a text that only an allowed form can fill.

use std::fmt;

use serde::de::{Deserialize, Deserializer, Error};

/// Issuers whose documents may be cited: regulators, agencies, standards bodies and journals.
const ISSUERS: [&str; 12] = [
    "ASTM ",
    "CLP Regulation (EC) 1272/2008",
    "Directive 2004/37/EC",
    "Directive 2006/25/EC",
    "IARC Monographs",
    "ISO ",
    "ISO/CIE ",
    "J. Chem. Health Saf.",
    "NIOSH Pocket Guide",
    "OSHA 29 CFR",
    "REACH Regulation (EC) 1907/2006",
    "UN GHS",
];

const PRACTICE: &str = "common practice, no source";
const DATA_SHEET: &str = "from memory, follow the data sheet";
const MODEL: &str = "model: ";

/// How well a fact is supported.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Support {
    /// A standard, regulation, agency or paper is named.
    Published,
    /// A computation, named as one; nobody measured it.
    Model,
    /// The habit of the trade; no authority stands behind it.
    Practice,
    /// Written from memory; the product's data sheet decides.
    Memory,
}

/// The source of a fact, never empty and always of an allowed form.
///
/// A built-in table whose source has another form does not load.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Source {
    text: &'static str,
    support: Support,
}

impl Source {
    /// Takes a source text, or `None` when its form is not an allowed one.
    pub fn new(text: &'static str) -> Option<Self> {
        let address = text.contains("://") || text.contains("www.");
        let support = support(text).filter(|_| !address)?;
        Some(Self { text, support })
    }

    /// The text as it is printed.
    pub fn as_str(&self) -> &'static str {
        self.text
    }

    /// How well the fact is supported.
    pub fn support(&self) -> Support {
        self.support
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.text)
    }
}

impl<'de: 'static> Deserialize<'de> for Source {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <&'de str>::deserialize(deserializer)?;
        Self::new(text).ok_or_else(|| D::Error::custom(format!("not a source: `{text}`")))
    }
}

fn support(text: &str) -> Option<Support> {
    if text == PRACTICE {
        Some(Support::Practice)
    } else if text == DATA_SHEET {
        Some(Support::Memory)
    } else if text.strip_prefix(MODEL).is_some_and(|rest| !rest.is_empty()) {
        Some(Support::Model)
    } else if ISSUERS.iter().any(|issuer| text.starts_with(issuer)) {
        Some(Support::Published)
    } else {
        None
    }
}

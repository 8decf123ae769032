//! Findings: what is wrong, where, in the user's own words, and what to write instead.

mod json;
mod page;
mod words;

pub use json::json;
pub use page::Page;
pub use words::{count, list, nearest, plural, two_digits};

use crate::text::{FileId, Span};
use serde::Serialize;

/// How much a finding matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// No report can be built.
    Error,
    /// The study is weaker for it.
    Warning,
    /// Worth knowing.
    Advice,
}

impl Severity {
    /// The word that the user sees.
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Advice => "advice",
        }
    }
}

/// A stretch of one input file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file.
    pub file: FileId,
    /// The bytes.
    pub span: Span,
}

impl Place {
    /// A place in the study file.
    pub fn study(span: Span) -> Self {
        Self { file: FileId::STUDY, span }
    }
}

impl From<Span> for Place {
    fn from(span: Span) -> Self {
        Self::study(span)
    }
}

/// One finding. It is data; drawing it is the command line's work.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Kebab-case name of the fault; reads well after "allow".
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// Where the caret goes.
    pub place: Place,
    /// One sentence without a full stop: what is wrong.
    pub message: String,
    /// A few words under the caret; may be empty.
    pub label: String,
    /// Other places that belong to it, each with a few words.
    pub related: Vec<(Place, String)>,
    /// What to write or do instead, one sentence each.
    pub help: Vec<String>,
    /// The names a waiver may give as its place: products, sections, rounds, or `map`, `prep`, `rounds`, `study`.
    pub about: Vec<String>,
    /// True where no waiver may silence it, because people could be hurt, the file
    /// contradicts itself, or nothing can be built.
    pub binding: bool,
}

impl Finding {
    /// A finding at a place. Add the rest with the other methods.
    pub fn new(
        code: &'static str,
        severity: Severity,
        place: impl Into<Place>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            code,
            severity,
            place: place.into(),
            message: clipped(message.into()),
            label: String::new(),
            related: Vec::new(),
            help: Vec::new(),
            about: Vec::new(),
            binding: false,
        }
    }

    /// An error at a place.
    pub fn error(code: &'static str, place: impl Into<Place>, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, place, message)
    }

    /// A warning at a place.
    pub fn warning(code: &'static str, place: impl Into<Place>, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, place, message)
    }

    /// Advice at a place.
    pub fn advice(code: &'static str, place: impl Into<Place>, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Advice, place, message)
    }

    /// Words under the caret.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// Another place that belongs to the finding.
    #[must_use]
    pub fn related(mut self, place: impl Into<Place>, label: impl Into<String>) -> Self {
        self.related.push((place.into(), label.into()));
        self
    }

    /// What to write or do instead.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(clipped(help.into()));
        self
    }

    /// A name that a waiver may give as the place of this finding.
    #[must_use]
    pub fn about(mut self, name: impl Into<String>) -> Self {
        self.about.push(name.into());
        self
    }

    /// No waiver silences this finding.
    #[must_use]
    pub fn binding(mut self) -> Self {
        self.binding = true;
        self
    }
}

/// A finding that the study waives, and why.
#[derive(Debug, Clone, PartialEq)]
pub struct Waived {
    /// The finding as it was.
    pub finding: Finding,
    /// The reason, in the user's words; several are joined by semicolons.
    pub because: String,
}

/// A sentence that quotes a very long word is cut, so that the word does not drown it; its place is still marked.
fn clipped(mut sentence: String) -> String {
    const LONG: usize = 400;
    if let Some((at, _)) = sentence.char_indices().nth(LONG) {
        sentence.truncate(at);
        sentence.push('…');
    }
    sentence
}

/// Puts findings in file order: study first, then readings files; at one place errors first.
pub fn sort(findings: &mut [Finding]) {
    findings.sort_by(|a, b| {
        (a.place.file, a.place.span.start, a.severity, a.code, &a.message).cmp(&(
            b.place.file,
            b.place.span.start,
            b.severity,
            b.code,
            &b.message,
        ))
    });
}

/// True if any finding is an error.
pub fn has_errors(findings: &[Finding]) -> bool {
    findings.iter().any(|finding| finding.severity == Severity::Error)
}

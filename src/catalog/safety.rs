//! Rules and lines for the papers at the panel: climate, rags, poison centre.

use serde::Deserialize;

use super::source::Source;

/// The climate rule at application.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Climate {
    /// Least distance of the surface above the dew point, degC of difference.
    pub margin_deg_c: f64,
    /// The sentence for it.
    pub margin_text: &'static str,
    /// Highest air humidity, percent; checked besides the distance.
    pub humidity_max_percent: f64,
    /// The sentence for it.
    pub humidity_text: &'static str,
    /// Source of both.
    pub source: Source,
}

/// A line for the papers, and when it is printed.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// `always`, `unknown` (a step of unknown class), or the reactivity group that calls for it.
    pub when: &'static str,
    /// The line.
    pub text: &'static str,
    /// Source of the line.
    pub source: Source,
}

/// The file of rules and lines.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct SafetyFile {
    pub(super) climate: Climate,
    #[serde(rename = "line")]
    pub(super) lines: Vec<Line>,
}

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

/// Dew point in degC of air at `air` degC with a relative humidity in percent; `None` unless the humidity is above 0.
///
/// Magnus formula over water with the constants of Sonntag (1990): 243.12 g / (17.62 - g) with
/// g = ln(RH/100) + 17.62 T / (243.12 + T).
pub fn dew_point(air: f64, percent: f64) -> Option<f64> {
    let g = (percent / 100.0).ln() + 17.62 * air / (243.12 + air);
    let dew = 243.12 * g / (17.62 - g);
    (percent > 0.0 && dew.is_finite()).then_some(dew)
}

/// A line for the papers, and when it is printed.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// Kebab-case identifier.
    pub id: &'static str,
    /// `always`, `unknown` (a step of unknown class), `mixed` (a mix), `card` (every card), `cards` (the head of their page), or the hazard statement or the
    /// reactivity group that calls for it.
    pub when: &'static str,
    /// Reactivity groups that call for a line which says more, so that this one is left out.
    #[serde(borrow, default)]
    pub unless: Vec<&'static str>,
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

#[cfg(test)]
mod tests {
    use super::dew_point;

    #[test]
    fn the_dew_point_agrees_with_published_values() {
        // Tables of the dew point over water: 20 degC and 50 % give 9.3 degC, 80 % give 16.4 degC.
        assert!((dew_point(20.0, 50.0).unwrap() - 9.3).abs() < 0.05);
        assert!((dew_point(20.0, 80.0).unwrap() - 16.4).abs() < 0.05);
        assert!((dew_point(20.0, 100.0).unwrap() - 20.0).abs() < 1e-9);
        assert_eq!(dew_point(20.0, 0.0), None);
    }
}

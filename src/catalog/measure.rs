//! Measures that the trade reads: unit, direction, limits and the range of possible values.

use serde::Deserialize;

use super::source::Source;

/// Which way is good.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Direction {
    /// Higher is better.
    Higher,
    /// Lower is better.
    Lower,
    /// Neither way is better.
    Neither,
}

/// The round that a change is usually counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Reference {
    /// Before the products went on.
    Baseline,
    /// After the products cured.
    Fresh,
}

/// How the trade makes a measure of others.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Making {
    /// The share that does not pass.
    ShareStopped,
    /// CIEDE2000 from the reference.
    ColourChange,
}

/// What a measure is made of.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnownParts {
    /// How.
    pub making: Making,
    /// Names of what is read, in order.
    #[serde(borrow)]
    pub parts: Vec<&'static str>,
    /// Their unit; empty where they have none.
    pub part_unit: &'static str,
    /// Taken against the bare specimen of the same round.
    pub against_blank: bool,
}

/// A measure.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measure {
    /// The name that a study uses.
    pub id: &'static str,
    /// Other names.
    #[serde(borrow)]
    pub aliases: Vec<&'static str>,
    /// The name that a report prints.
    pub label: &'static str,
    /// Unit of every value: `GU`, `um`, `deg`, `%`, `dE00`.
    pub unit: &'static str,
    /// Angle from the normal at which gloss is read, degrees; `None` for other measures. ISO 2813.
    pub angle_deg: Option<f64>,
    /// Which way is good.
    pub direction: Direction,
    /// Differences up to this count as alike, in the unit of the measure.
    pub alike: Option<f64>,
    /// An eye sees differences from here on, in the unit of the measure.
    pub seen: Option<f64>,
    /// From here on every eye sees it, in the unit of the measure.
    pub seen_to: Option<f64>,
    /// What to mind of the limit of sight, for the sentence that tells it.
    pub seen_note: Option<&'static str>,
    /// Source of the three limits.
    pub limits_source: Source,
    /// Lowest value that is a value at all, in the unit of the measure.
    pub possible_min: f64,
    /// Highest value that is a value at all, in the unit of the measure.
    pub possible_max: f64,
    /// Source of the range.
    pub range_source: Source,
    /// Kind of gauge.
    pub gauge: &'static str,
    /// Standard of the gauge or method.
    pub gauge_source: Source,
    /// What reading it takes besides its gauge.
    pub kit: Option<&'static str>,
    /// Usual measuring spot, width and length in mm; trade habit, the gauge's own papers decide.
    pub spot_mm: [f64; 2],
    /// Changes below this are noise of the gauge, in the unit of the measure; trade habit.
    pub noise_floor: Option<f64>,
    /// The round that a change is usually counted from; trade habit.
    pub reference: Reference,
    /// What to mind.
    pub note: &'static str,
    /// Source of the note.
    pub note_source: Source,
    /// What it is made of; `None` where it is one number a reading.
    pub made: Option<KnownParts>,
}

impl Measure {
    /// Whether a value, in the unit of the measure, is possible at all.
    pub fn is_possible(&self, value: f64) -> bool {
        (self.possible_min..=self.possible_max).contains(&value)
    }

    /// The sources of its groups of facts.
    pub fn sources(&self) -> [Source; 4] {
        [self.limits_source, self.range_source, self.gauge_source, self.note_source]
    }
}

/// The file of measures.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub(super) struct MeasureFile {
    #[serde(rename = "measure")]
    pub(super) measures: Vec<Measure>,
}

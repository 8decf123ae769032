//! The climate record of one file: what each row says, and for how long.

use super::super::model::FileState;
use super::conditions::Conditions;
use jiff::civil::DateTime;

/// Rows that stand for a longer time say nothing about the hour of a coat. Common practice, no source.
const LONGEST_FOR_AN_HOUR_S: f64 = 3.0 * 3600.0;

/// What a column of a climate file tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ClimatePart {
    /// Temperature of the air.
    Air,
    /// Relative humidity of the air.
    Humidity,
    /// Temperature of the surface.
    Surface,
    /// Whether, or how long, the surface was wet.
    Wet,
    /// What falls on the surface from the sun.
    Sun,
    /// How long the sun shone.
    Sunshine,
}

/// One row. A value that is missing is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClimateRow {
    /// Clock time of the place at which it begins.
    pub at: DateTime,
    /// The time that it stands for, s.
    pub span_s: f64,
    /// Air and surface.
    pub met: Conditions,
    /// How long it was wet, s.
    pub wet_s: Option<f64>,
    /// What fell on the surface meanwhile, J per m2.
    pub sun_j_per_m2: Option<f64>,
    /// How long the sun shone, s.
    pub sunshine_s: Option<f64>,
}

impl ClimateRow {
    /// A row in which nothing is known.
    pub(super) fn empty(at: DateTime) -> Self {
        Self {
            at,
            span_s: 0.0,
            met: Conditions::default(),
            wet_s: None,
            sun_j_per_m2: None,
            sunshine_s: None,
        }
    }
}

/// The record of one file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Climate {
    /// What became of its rows.
    pub state: FileState,
    /// The time that a row usually stands for, s; 0 where the file does not tell.
    pub step_s: f64,
    /// What its columns tell.
    pub parts: Vec<ClimatePart>,
    /// Its rows by time; no two begin together.
    pub rows: Vec<ClimateRow>,
}

impl Climate {
    /// Whether a column tells this.
    pub fn tells(&self, part: ClimatePart) -> bool {
        self.parts.contains(&part)
    }

    /// The row that holds at a clock time; `None` in a gap, and where rows stand for more than three hours.
    pub fn at(&self, time: DateTime) -> Option<&ClimateRow> {
        let after = self.rows.partition_point(|row| row.at <= time);
        let row = self.rows.get(after.checked_sub(1)?)?;
        let since = seconds_between(row.at, time);
        (since < row.span_s && row.span_s <= LONGEST_FOR_AN_HOUR_S).then_some(row)
    }

    /// The rows that begin from a clock time on and before another.
    pub fn between(&self, from: DateTime, to: DateTime) -> &[ClimateRow] {
        let first = self.rows.partition_point(|row| row.at < from);
        let last = self.rows.partition_point(|row| row.at < to);
        self.rows.get(first..last).unwrap_or(&[])
    }
}

/// Seconds from one clock time to another.
pub fn seconds_between(from: DateTime, to: DateTime) -> f64 {
    from.duration_until(to).as_secs_f64()
}

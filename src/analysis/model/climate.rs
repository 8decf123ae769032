//! What specimens met between rounds.

use crate::study::{HoursAbove, RoundId, SiteId};
use jiff::civil::Date;

/// One climate file, between the rounds of its site.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteClimate {
    /// Its place in the list of the study.
    pub file: usize,
    /// The site, where the study has several.
    pub site: Option<SiteId>,
    /// The time that a row usually stands for, s.
    pub step_s: f64,
    /// What hours wet are counted by; `None` where the file does not tell.
    pub wet_by: Option<WetBy>,
    /// Of what and above what hours are counted; sums of a stretch stand in this order.
    pub hours_above: Vec<HoursAbove>,
    /// From round to round.
    pub stretches: Vec<ClimateStretch>,
    /// From the first to the last of them, where there are several.
    pub whole: Option<ClimateStretch>,
}

/// What hours wet are counted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WetBy {
    /// A column of the file.
    Column,
    /// The surface at or below the dew point of the air, which is an estimate.
    DewPoint,
}

/// What a stretch begins or ends with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StretchEnd {
    /// Specimens were put out.
    PutOut,
    /// Products went on.
    Apply,
    /// A round was read.
    Round(RoundId),
    /// Specimens were brought in, before the round that was read next.
    BroughtIn,
}

/// The time between two days, from midnight to midnight.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateStretch {
    /// What it begins with.
    pub from: StretchEnd,
    /// What it ends with.
    pub to: StretchEnd,
    /// Its first day.
    pub first: Date,
    /// The day before which it ends.
    pub last: Date,
    /// Its length in hours.
    pub hours: f64,
    /// Hours of it of which the file has no row.
    pub without_row_h: f64,
    /// Mean temperature of the air over the recorded time, degC.
    pub air_mean_deg_c: Option<f64>,
    /// Lowest and highest temperature of the air, degC.
    pub air_range_deg_c: Option<(f64, f64)>,
    /// Mean relative humidity over the recorded time, percent.
    pub humidity_mean_percent: Option<f64>,
    /// Hours wet; `None` where the file does not tell.
    pub wet: Option<ClimateSum>,
    /// Hours above a temperature, in the order of [`SiteClimate::hours_above`].
    pub above: Vec<ClimateSum>,
    /// Dose of the sun, MJ per m2; `None` where the file has no such column.
    pub sun_mj_per_m2: Option<ClimateSum>,
    /// Hours of sunshine; `None` where the file has no such column.
    pub sunshine: Option<ClimateSum>,
}

/// A sum over the hours that are recorded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClimateSum {
    /// The sum.
    pub value: f64,
    /// Hours of the stretch of which nothing is known; what they would add is not in the sum.
    pub missing_h: f64,
}

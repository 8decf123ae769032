//! The climate record of a site: a file of air, surface, wetness and sun, and what is asked of it.

use super::SiteId;
use crate::text::Located;
use crate::units::{Quantity, Temperature, Time};

/// A file of climate.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateFile {
    /// Its name as written, relative to the study.
    pub name: Located<String>,
    /// The site that it was recorded at, where the study has several.
    pub site: Option<SiteId>,
    /// Columns that the file calls otherwise.
    pub columns: Vec<ClimateColumn>,
    /// The time that one row stands for; else the usual distance of the rows.
    pub each_row: Option<Quantity<Time>>,
    /// Temperatures above which hours are counted.
    pub hours: Vec<HoursAbove>,
    /// True where a line of it could not be taken.
    pub broken: bool,
}

/// A column that the file calls otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct ClimateColumn {
    /// Its heading.
    pub heading: Located<String>,
    /// The word that the tool knows, in small letters.
    pub word: Located<String>,
    /// Its unit, as written.
    pub unit: Option<String>,
}

/// Hours that are counted: those in which the air, or the surface, is warmer than this.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoursAbove {
    /// True for the surface, false for the air.
    pub surface: bool,
    /// The temperature.
    pub above: Quantity<Temperature>,
}

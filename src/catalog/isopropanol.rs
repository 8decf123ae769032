//! Isopropanol in water: flash point and hazard statements by strength.

use serde::Deserialize;

use super::class::Signal;
use super::source::Source;

/// What a mix of isopropanol and water asks for at one strength.
#[derive(Debug, Clone, PartialEq)]
pub struct Isopropanol {
    /// Strength, percent by volume, as it was asked for.
    pub percent_by_volume: f64,
    /// Strength, percent by mass.
    pub percent_by_mass: f64,
    /// Flash point, degC, closed cup; absent below the table, where it lies above the first point.
    pub flash_deg_c: Option<f64>,
    /// The flash point comes from a model; nobody measured it.
    pub modelled: bool,
    /// The more severe statement was taken because a class border is near.
    pub near_border: bool,
    /// Codes of hazard statements.
    pub statements: Vec<&'static str>,
    /// Signal word.
    pub signal: Signal,
    /// Codes of pictograms.
    pub pictograms: Vec<&'static str>,
    /// Sources of strength, flash point and borders.
    pub sources: [Source; 3],
}

/// The table behind [`Isopropanol`].
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub struct IsopropanolTable {
    /// Volume to mass.
    pub mass: MassRule,
    /// Flash points by strength.
    pub flash: FlashTable,
    /// Class borders.
    pub borders: Borders,
    /// Statements that come with the share alone.
    #[serde(rename = "share")]
    pub shares: Vec<Share>,
}

/// Densities that turn a strength by volume into one by mass.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MassRule {
    /// g/ml at 20 degC.
    pub density_isopropanol_g_per_ml: f64,
    /// g/ml at 20 degC.
    pub density_water_g_per_ml: f64,
    /// What the rule leaves out.
    pub note: &'static str,
    /// Source of the densities.
    pub source: Source,
}

/// Flash points of mixes with water.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlashTable {
    /// The table was computed, not measured.
    pub modelled: bool,
    /// How good it is.
    pub note: &'static str,
    /// Source of the table.
    pub source: Source,
    /// Points in rising strength and falling flash point.
    pub points: Vec<FlashPoint>,
}

/// A point of the flash table.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FlashPoint {
    /// Strength, percent by mass.
    pub percent_by_mass: f64,
    /// Flash point, degC, closed cup.
    pub flash_deg_c: f64,
}

/// Class borders by flash point.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, bound(deserialize = "'de: 'static"))]
pub struct Borders {
    /// Within this distance of a border the more severe statement holds, degC of difference.
    pub margin_deg_c: f64,
    /// Source of the distance.
    pub margin_source: Source,
    /// Source of the borders.
    pub source: Source,
    /// From the most severe to the least.
    pub bands: Vec<Band>,
}

/// A class of flammable liquids.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// Flash points below this belong to the class, degC.
    pub below_deg_c: f64,
    /// Code of its statement.
    pub statement: &'static str,
}

/// A statement that comes with the share of alcohol.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// It holds from this strength on, percent by mass.
    pub from_percent_by_mass: f64,
    /// Code of the statement.
    pub statement: &'static str,
    /// Source of the limit.
    pub source: Source,
}

impl IsopropanolTable {
    /// Sources of the densities, the flash points, the borders and the margin.
    pub fn sources(&self) -> [Source; 4] {
        let borders = &self.borders;
        [self.mass.source, self.flash.source, borders.source, borders.margin_source]
    }

    /// What a mix asks for at a strength in percent by volume; `None` outside 0 to 100.
    ///
    /// Strength by volume is turned to mass first, since the table is by mass. Within the margin
    /// of a class border the more severe statement holds.
    pub fn at(&self, percent_by_volume: f64) -> Option<Isopropanol> {
        if !(percent_by_volume > 0.0 && percent_by_volume <= 100.0) {
            return None;
        }
        let percent_by_mass = self.mass.percent_by_mass(percent_by_volume);
        let flash_deg_c = self.flash.at(percent_by_mass);
        let (band, near_border) = self.borders.band(flash_deg_c);
        let flammable = band.map(|band| band.statement);
        let shares = || self.shares.iter().filter(|s| percent_by_mass >= s.from_percent_by_mass);
        let by_share: Vec<&'static str> = shares().map(|share| share.statement).collect();
        Some(Isopropanol {
            percent_by_volume,
            percent_by_mass,
            flash_deg_c,
            modelled: self.flash.modelled,
            near_border,
            signal: signal(flammable, &by_share),
            pictograms: pictograms(flammable, &by_share),
            statements: flammable.into_iter().chain(by_share).collect(),
            sources: [self.mass.source, self.flash.source, self.borders.source],
        })
    }
}

impl MassRule {
    /// Percent by volume of a strength in percent by mass, the same rule turned round.
    pub fn percent_by_volume(&self, percent_by_mass: f64) -> f64 {
        let water = percent_by_mass * self.density_water_g_per_ml;
        let alcohol = (100.0 - percent_by_mass) * self.density_isopropanol_g_per_ml;
        100.0 * water / (water + alcohol)
    }

    /// Percent by mass of a strength in percent by volume, without shrinkage on mixing.
    pub fn percent_by_mass(&self, percent_by_volume: f64) -> f64 {
        let alcohol = percent_by_volume * self.density_isopropanol_g_per_ml;
        let water = (100.0 - percent_by_volume) * self.density_water_g_per_ml;
        100.0 * alcohol / (alcohol + water)
    }
}

impl FlashTable {
    /// Flash point in degC at a strength in percent by mass; `None` below the first point.
    ///
    /// Straight lines between points of a falling table fall as well, and never overshoot.
    pub fn at(&self, percent_by_mass: f64) -> Option<f64> {
        let steps = self.points.iter().zip(self.points.iter().skip(1));
        let (low, high) = steps
            .filter(|(low, _)| low.percent_by_mass <= percent_by_mass)
            .find(|(_, high)| percent_by_mass <= high.percent_by_mass)?;
        let share = (percent_by_mass - low.percent_by_mass) / (high.percent_by_mass - low.percent_by_mass);
        Some(low.flash_deg_c + share * (high.flash_deg_c - low.flash_deg_c))
    }
}

impl Borders {
    /// The class of a flash point in degC, and whether a near border made it more severe.
    ///
    /// A strength below the table keeps the least severe class: its flash point is above the
    /// first point, but nothing says that it is above the last border.
    fn band(&self, flash_deg_c: Option<f64>) -> (Option<&Band>, bool) {
        let Some(flash) = flash_deg_c else {
            return (self.bands.last(), false);
        };
        let plain = self.bands.iter().find(|band| flash < band.below_deg_c);
        let strict = self.bands.iter().find(|band| flash < band.below_deg_c + self.margin_deg_c);
        (strict, plain.map(|band| band.statement) != strict.map(|band| band.statement))
    }
}

/// H225 carries "Danger"; H226, H319 and H336 carry "Warning" (UN GHS, Annex 1).
fn signal(flammable: Option<&str>, by_share: &[&str]) -> Signal {
    match flammable {
        Some("H225") => Signal::Danger,
        None if by_share.is_empty() => Signal::None,
        _ => Signal::Warning,
    }
}

/// The flame for a flammable liquid, the exclamation mark for eyes and dizziness (UN GHS, Annex 1).
fn pictograms(flammable: Option<&str>, by_share: &[&str]) -> Vec<&'static str> {
    let flame = flammable.map(|_| "GHS02");
    let mark = (!by_share.is_empty()).then_some("GHS07");
    flame.into_iter().chain(mark).collect()
}

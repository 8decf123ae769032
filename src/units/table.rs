//! The table of units, with every spelling that is taken, and the words for each dimension.

use super::{Dimension, Unit, UnitRef};

const fn unit(
    symbol: &'static str,
    dimension: Dimension,
    factor: f64,
    spellings: &'static [&'static str],
) -> Unit {
    Unit { symbol, dimension, factor, offset: 0.0, spellings }
}

const DAY: f64 = 86_400.0;

static MM: Unit =
    unit("mm", Dimension::Length, 1.0, &["millimetre", "millimetres", "millimeter", "millimeters"]);

pub(super) static MILLIMETRE: UnitRef = &MM;

// The mean Gregorian year has 365.2425 days, so the mean month has 30.436875.
pub(super) static UNITS: &[&Unit] = &[
    &MM,
    &unit("um", Dimension::Length, 1e-3, &["µm", "μm", "micron", "microns"]),
    &unit("mil", Dimension::Length, 0.0254, &["mils", "thou"]),
    &unit("cm", Dimension::Length, 10.0, &[]),
    &unit("m", Dimension::Length, 1000.0, &[]),
    &unit("inch", Dimension::Length, 25.4, &["inches"]),
    &unit("ft", Dimension::Length, 304.8, &["foot", "feet"]),
    &unit("m2", Dimension::Area, 1e6, &["m²", "sqm"]),
    &unit("ml", Dimension::Volume, 1.0, &["mL", "millilitre", "millilitres"]),
    &unit("l", Dimension::Volume, 1000.0, &["L", "litre", "litres", "liter", "liters"]),
    &unit("g", Dimension::Mass, 1.0, &["gram", "grams"]),
    &unit("kg", Dimension::Mass, 1000.0, &[]),
    &unit("s", Dimension::Time, 1.0, &["sec", "secs", "second", "seconds"]),
    &unit("min", Dimension::Time, 60.0, &["mins", "minute", "minutes"]),
    &unit("h", Dimension::Time, 3600.0, &["hr", "hrs", "hour", "hours"]),
    &unit("days", Dimension::Time, DAY, &["day", "d"]),
    &unit("weeks", Dimension::Time, 7.0 * DAY, &["week"]),
    &unit("months", Dimension::Time, 30.436_875 * DAY, &["month"]),
    &unit("years", Dimension::Time, 365.2425 * DAY, &["year"]),
    &unit("degC", Dimension::Temperature, 1.0, &["°C", "ºC", "℃", "C"]),
    &Unit {
        symbol: "degF",
        dimension: Dimension::Temperature,
        factor: 1.0 / 1.8,
        offset: -32.0 / 1.8,
        spellings: &["°F", "ºF", "℉", "F"],
    },
    &unit("deg", Dimension::Angle, 1.0, &["°", "degree", "degrees"]),
    &unit("GU", Dimension::Gloss, 1.0, &["gu"]),
    &unit("dE00", Dimension::ColourDifference, 1.0, &[]),
    &unit("EUR", Dimension::Money, 1.0, &["€", "euro", "euros"]),
    &unit("USD", Dimension::Money, 1.0, &[]),
    &unit("GBP", Dimension::Money, 1.0, &["£"]),
    &unit("CHF", Dimension::Money, 1.0, &[]),
    &unit("SEK", Dimension::Money, 1.0, &[]),
    &unit("NOK", Dimension::Money, 1.0, &[]),
    &unit("DKK", Dimension::Money, 1.0, &[]),
    &unit("PLN", Dimension::Money, 1.0, &[]),
    &unit("CZK", Dimension::Money, 1.0, &[]),
    &unit("JPY", Dimension::Money, 1.0, &["¥"]),
    &unit("AUD", Dimension::Money, 1.0, &[]),
    &unit("CAD", Dimension::Money, 1.0, &[]),
    &unit("NZD", Dimension::Money, 1.0, &[]),
    &unit("ml per m2", Dimension::VolumePerArea, 1.0, &["ml/m2", "ml/m²", "ml per m²"]),
    &unit("l per m2", Dimension::VolumePerArea, 1000.0, &["l/m2", "l/m²", "l per m²"]),
    &unit("g per m2", Dimension::MassPerArea, 1.0, &["g/m2", "g/m²", "g per m²"]),
    &unit("g per ml", Dimension::Density, 1.0, &["g/ml", "g/cm3", "g per cm3"]),
    &unit("kg per l", Dimension::Density, 1.0, &["kg/l"]),
    &unit("g per l", Dimension::Density, 1e-3, &["g/l"]),
    &unit("% by volume", Dimension::PercentVolume, 1.0, &["% v/v", "% vol"]),
    &unit("% by mass", Dimension::PercentMass, 1.0, &["% w/w", "% by weight"]),
    &unit("% humidity", Dimension::Humidity, 1.0, &["% RH", "% rh", "% relative humidity"]),
    &unit("% moisture", Dimension::Moisture, 1.0, &[]),
    &unit("% of fresh", Dimension::PercentOfReference, 1.0, &[]),
    &unit("% of baseline", Dimension::PercentOfReference, 1.0, &[]),
    &unit("points", Dimension::Points, 1.0, &["point"]),
    &unit("%", Dimension::PercentOfWhat, 1.0, &["percent"]),
    &unit("W/m2", Dimension::Irradiance, 1.0, &["W/m²"]),
    &unit("mW/cm2", Dimension::Irradiance, 10.0, &["mW/cm²"]),
    &unit("uW/cm2", Dimension::Irradiance, 0.01, &["uW/cm²", "µW/cm2", "µW/cm²"]),
    &unit("J/m2", Dimension::RadiantExposure, 1.0, &["J/m²"]),
    &unit("kJ/m2", Dimension::RadiantExposure, 1e3, &["kJ/m²"]),
    &unit("MJ/m2", Dimension::RadiantExposure, 1e6, &["MJ/m²"]),
    &unit("Wh/m2", Dimension::RadiantExposure, 3.6e3, &["Wh/m²"]),
    &unit("kWh/m2", Dimension::RadiantExposure, 3.6e6, &["kWh/m²"]),
    &unit("MPa", Dimension::Pressure, 1.0, &[]),
];

/// Words of units that are not taken, and the unit that each mostly means.
pub(super) static FOREIGN: &[(&str, &str)] = &[
    ("minuten", "min"),
    ("minuts", "min"),
    ("std", "h"),
    ("stunde", "h"),
    ("stunden", "h"),
    ("tag", "days"),
    ("tage", "days"),
    ("tagen", "days"),
    ("woche", "weeks"),
    ("wochen", "weeks"),
    ("wk", "weeks"),
    ("wks", "weeks"),
    ("monat", "months"),
    ("monate", "months"),
    ("monaten", "months"),
    ("mo", "months"),
    ("jahr", "years"),
    ("jahre", "years"),
    ("yrs", "years"),
    ("sekunden", "s"),
    ("zoll", "inch"),
    ("meter", "m"),
    ("qm", "m2"),
    ("grad", "deg"),
    ("grad", "degC"),
    ("celsius", "degC"),
    ("fahrenheit", "degF"),
    ("cc", "ml"),
    ("ccm", "ml"),
    ("kilo", "kg"),
    ("gramm", "g"),
    ("mikrometer", "um"),
    ("my", "um"),
    ("dollar", "USD"),
    ("dollars", "USD"),
    ("pounds", "GBP"),
    ("kronor", "SEK"),
    ("gloss", "GU"),
    ("ml/sqm", "ml per m2"),
    ("ml/qm", "ml per m2"),
    ("g/sqm", "g per m2"),
    ("g/qm", "g per m2"),
];

pub(super) fn find(spelling: &str) -> Option<UnitRef> {
    // The table is short and the common units stand first, so a scan beats building a map at start-up.
    UNITS.iter().copied().find(|unit| unit.symbol == spelling || unit.spellings.contains(&spelling))
}

pub(super) fn dimension_words(dimension: Dimension) -> (&'static str, &'static str) {
    match dimension {
        Dimension::Length => ("a length", "120 mm"),
        Dimension::Area => ("an area", "2 m2"),
        Dimension::Volume => ("a volume", "50 ml"),
        Dimension::Mass => ("a mass", "200 g"),
        Dimension::Time => ("a time", "5 min"),
        Dimension::Temperature => ("a temperature", "20 degC"),
        Dimension::Angle => ("an angle", "45 deg"),
        Dimension::Gloss => ("a gloss", "2 GU"),
        Dimension::ColourDifference => ("a colour difference", "1 dE00"),
        Dimension::Money => ("a price", "42.00 EUR"),
        Dimension::VolumePerArea => ("a volume on an area", "25 ml per m2"),
        Dimension::MassPerArea => ("a mass on an area", "11 g per m2"),
        Dimension::Density => ("a density", "0.87 g per ml"),
        Dimension::PercentVolume => ("a percentage by volume", "35 % by volume"),
        Dimension::PercentMass => ("a percentage by mass", "30 % by mass"),
        Dimension::Humidity => ("a humidity", "50 % humidity"),
        Dimension::Moisture => ("a moisture", "12 % moisture"),
        Dimension::PercentOfReference => ("a percentage of a reference", "80 % of fresh"),
        Dimension::Points => ("percentage points", "3 points"),
        Dimension::PercentOfWhat => ("a percentage", "35 % by volume"),
        Dimension::Pressure => ("a pressure", "2 MPa"),
        Dimension::Irradiance => ("an irradiance", "1.8 mW/cm2"),
        Dimension::RadiantExposure => ("a dose of light", "18 MJ/m2"),
    }
}

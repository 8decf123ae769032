//! Quantities: a number with a unit, and types that know their dimension.
//!
//! Factors are exact by definition: SI prefixes, the international inch of 25.4 mm (so 1 mil is
//! 25.4 um) from the international yard and pound agreement of 1959, and the degree Fahrenheit
//! from the SI Brochure (9th edition) and NIST SP 811.

mod number;
mod table;

/// Days in the mean Gregorian month: 365.2425 / 12.
pub const DAYS_IN_MONTH: f64 = 30.436_875;

pub use number::{Number, NumberFault, decimal, read as read_number};

use std::fmt;
use std::marker::PhantomData;

/// What a quantity measures. Kinds of percent are kept apart, because each means another thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Dimension {
    /// Length; base mm.
    Length,
    /// Area; base mm².
    Area,
    /// Volume; base ml.
    Volume,
    /// Mass; base g.
    Mass,
    /// Time; base s.
    Time,
    /// Temperature on a scale, or a step on it; base degC.
    Temperature,
    /// Angle; base degree.
    Angle,
    /// Gloss; base GU.
    Gloss,
    /// Colour difference; base dE00.
    ColourDifference,
    /// Money, each currency by itself.
    Money,
    /// Volume on an area; base ml per m².
    VolumePerArea,
    /// Mass on an area; base g per m².
    MassPerArea,
    /// Mass of a volume; base g per ml.
    Density,
    /// Percent of volume in a mix.
    PercentVolume,
    /// Percent of mass in a mix.
    PercentMass,
    /// Relative humidity in percent.
    Humidity,
    /// Moisture of wood or masonry in percent of dry mass.
    Moisture,
    /// Percent of a section's own reference reading.
    PercentOfReference,
    /// Percentage points.
    Points,
    /// A bare percent sign, which could be several of these.
    PercentOfWhat,
    /// Pressure; base MPa.
    Pressure,
    /// Irradiance; base W per m2.
    Irradiance,
    /// What falls on an area in a time; base J per m2.
    RadiantExposure,
}

impl Dimension {
    /// The kind in plain words, with an example of how to write one.
    pub fn words(self) -> (&'static str, &'static str) {
        table::dimension_words(self)
    }
}

/// A unit of the built-in table.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// How it is printed.
    pub symbol: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// How many base units one of it is.
    pub factor: f64,
    /// Added after the factor; only temperature scales have one.
    pub offset: f64,
    spellings: &'static [&'static str],
}

/// A reference to a unit of the table.
pub type UnitRef = &'static Unit;

/// The symbol of every unit.
pub fn symbols() -> impl Iterator<Item = &'static str> {
    table::UNITS.iter().map(|unit| unit.symbol)
}

/// Finds a unit by symbol or spelling. Units are case-sensitive, as `M` and `m` differ.
pub fn unit(spelling: &str) -> Option<UnitRef> {
    table::find(spelling)
}

/// The unit that was probably meant by an unknown spelling, of the expected dimension if one is known.
pub fn nearest_unit(spelling: &str, expected: Option<Dimension>) -> Option<&'static str> {
    let fits = |unit: &&&'static Unit| expected.is_none_or(|dimension| unit.dimension == dimension);
    let all = || {
        let units = table::UNITS.iter().filter(fits);
        units.flat_map(|unit| unit.spellings.iter().copied().chain([unit.symbol]))
    };
    let same = all().find(|known| known.eq_ignore_ascii_case(spelling));
    let foreign = || {
        let word = spelling.to_lowercase();
        let meant = table::FOREIGN.iter().filter(|(known, _)| *known == word.trim_end_matches('.'));
        meant.filter_map(|(_, symbol)| unit(symbol)).find(|unit| fits(&unit)).map(|unit| unit.symbol)
    };
    let near = same.or_else(|| all().find(|known| one_letter_apart(spelling, known)));
    // Of many spellings the one is told that a study mostly has.
    foreign().or_else(|| near.map(|near| unit(near).map_or(near, |unit| unit.symbol)))
}

// The wording layer lies above this one, so the small search for one slip of the finger is here.
fn one_letter_apart(word: &str, known: &str) -> bool {
    let differing = word.chars().zip(known.chars()).filter(|(a, b)| a != b).count();
    known.len() > 2 && word.chars().count() == known.chars().count() && differing == 1
}

/// A number with a unit whose kind is not yet checked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AnyQuantity {
    /// The number as written.
    pub value: f64,
    /// Its unit.
    pub unit: UnitRef,
}

impl AnyQuantity {
    /// The value in the base unit of its dimension.
    pub fn base(self) -> f64 {
        self.value * self.unit.factor + self.unit.offset
    }

    /// The same quantity as one of a kind, or `None` if it is of another kind.
    pub fn typed<K: Kind>(self) -> Option<Quantity<K>> {
        (self.unit.dimension == K::DIMENSION).then_some(Quantity { any: self, kind: PhantomData })
    }

    /// The number that this quantity has in another unit of the same dimension.
    pub fn in_unit(self, unit: UnitRef) -> Option<f64> {
        if self.unit == unit {
            return Some(self.value);
        }
        (self.unit.dimension == unit.dimension && unit.dimension != Dimension::Money)
            .then(|| (self.base() - unit.offset) / unit.factor)
    }
}

impl fmt::Display for AnyQuantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Of the symbols only days, weeks, months, years and points have a plural.
        let plural = ["days", "weeks", "months", "years", "points"].contains(&self.unit.symbol);
        let one = plural && (self.value - 1.0).abs() < f64::EPSILON;
        let symbol = if one { self.unit.symbol.trim_end_matches('s') } else { self.unit.symbol };
        write!(f, "{} {symbol}", decimal(self.value))
    }
}

/// A kind of quantity, as a type.
pub trait Kind: Copy + fmt::Debug + PartialEq {
    /// The dimension that a unit of this kind has.
    const DIMENSION: Dimension;
    /// True for a value on a scale, whose zero is no nothing: a temperature, not a difference of two.
    const SCALE: bool;
}

macro_rules! kinds {
    ($($(#[$doc:meta])* $name:ident => $dimension:ident, $scale:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq)]
        pub struct $name;
        impl Kind for $name {
            const DIMENSION: Dimension = Dimension::$dimension;
            const SCALE: bool = $scale;
        }
    )*};
}

kinds! {
    /// A length.
    Length => Length, false;
    /// A length of time.
    Time => Time, false;
    /// A temperature on a scale.
    Temperature => Temperature, true;
    /// A difference of two temperatures: 3 degC is 5.4 degF.
    TemperatureStep => Temperature, false;
    /// Relative humidity.
    Humidity => Humidity, false;
    /// An angle.
    Angle => Angle, false;
    /// Money.
    Money => Money, false;
}

/// A quantity of a known kind, kept in the unit in which it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity<K: Kind> {
    any: AnyQuantity,
    kind: PhantomData<K>,
}

impl<K: Kind> Quantity<K> {
    /// The number and unit as written.
    pub fn any(self) -> AnyQuantity {
        self.any
    }
}

impl<K: Kind> fmt::Display for Quantity<K> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.any.fmt(f)
    }
}

impl Quantity<Length> {
    /// Millimetres.
    pub fn mm(self) -> f64 {
        self.any.base()
    }

    /// A length given in millimetres.
    pub fn from_mm(value: f64) -> Self {
        Self { any: AnyQuantity { value, unit: table::MILLIMETRE }, kind: PhantomData }
    }
}

impl Quantity<Time> {
    /// Seconds; months count 30.436875 days and years 365.2425 days here. Dates use the calendar instead.
    pub fn seconds(self) -> f64 {
        self.any.base()
    }
}

impl Quantity<Temperature> {
    /// Degrees Celsius.
    pub fn deg_c(self) -> f64 {
        self.any.base()
    }
}

impl Quantity<TemperatureStep> {
    /// Kelvin, which are steps of one degree Celsius.
    pub fn kelvin(self) -> f64 {
        self.any.value * self.any.unit.factor
    }
}

/// One value, a range, or a bound, in the unit that was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Range<K: Kind> {
    /// Lower end.
    pub low: Quantity<K>,
    /// Upper end; equal to `low` where one value was given.
    pub high: Quantity<K>,
}

impl<K: Kind> fmt::Display for Range<K> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.low == self.high {
            self.low.fmt(f)
        } else {
            write!(f, "{} to {}", decimal(self.low.any.value), self.high)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn q(value: f64, spelling: &str) -> AnyQuantity {
        AnyQuantity { value, unit: unit(spelling).unwrap() }
    }

    #[test]
    fn a_mil_is_25_4_micrometres_exactly() {
        // International yard and pound agreement, 1959.
        assert_eq!(q(1.0, "mil").in_unit(unit("um").unwrap()), Some(25.4));
        assert_eq!(q(1.0, "inch").in_unit(unit("mm").unwrap()), Some(25.4));
    }

    #[test]
    fn a_step_of_temperature_is_not_a_temperature() {
        // NIST SP 811: t/degC = (t/degF - 32)/1.8, and a step of 1.8 degF is 1 K.
        let freezing = q(32.0, "degF");
        assert!(freezing.typed::<Temperature>().unwrap().deg_c().abs() < 1e-12);
        let step = q(5.4, "degF").typed::<TemperatureStep>().unwrap();
        assert!((step.kelvin() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn kinds_of_percent_do_not_mix() {
        assert!(q(35.0, "% by volume").in_unit(unit("% by mass").unwrap()).is_none());
        assert!(q(35.0, "%").typed::<Humidity>().is_none());
        assert!(q(52.0, "% RH").typed::<Humidity>().is_some());
    }

    #[test]
    fn currencies_are_not_converted() {
        assert_eq!(q(1.0, "EUR").in_unit(unit("USD").unwrap()), None);
    }

    #[test]
    fn unknown_units_get_the_nearest_known_one() {
        assert_eq!(nearest_unit("MIN", None), Some("min"));
        assert_eq!(nearest_unit("mim", Some(Dimension::Time)), Some("min"));
        assert_eq!(nearest_unit("qqq", None), None);
    }
}

//! Turns a value into the unit of its measure.

use crate::study::MeasureUnit;
use crate::units::{AnyQuantity, Dimension, UnitRef, unit};

/// How a value of a row becomes one in the unit of the measure.
#[derive(Debug, Clone, Copy)]
pub(super) enum Turn {
    /// It is in that unit.
    Same,
    /// From a unit to another of the same dimension.
    From(UnitRef, UnitRef),
}

impl Turn {
    /// The value in the unit of the measure.
    pub(super) fn value(self, value: f64) -> f64 {
        match self {
            Self::Same => value,
            Self::From(from, to) => AnyQuantity { value, unit: from }.in_unit(to).unwrap_or(f64::NAN),
        }
    }
}

/// What the word in a row's unit column means for a measure; `None` if it is no such unit.
///
/// A blank field means the measure's own unit, and so does a bare `%` where that is a percentage.
pub(super) fn turn(word: &str, own: &MeasureUnit) -> Option<Turn> {
    if word.is_empty() || word.eq_ignore_ascii_case(&own.symbol) {
        return Some(Turn::Same);
    }
    let (from, to) = (unit(word)?, own.known?);
    if from == to || (from.dimension == Dimension::PercentOfWhat && is_percent(to.dimension)) {
        return Some(Turn::Same);
    }
    let one = AnyQuantity { value: 1.0, unit: from };
    one.in_unit(to).map(|_| Turn::From(from, to))
}

fn is_percent(dimension: Dimension) -> bool {
    matches!(
        dimension,
        Dimension::PercentVolume
            | Dimension::PercentMass
            | Dimension::Humidity
            | Dimension::Moisture
            | Dimension::PercentOfReference
            | Dimension::PercentOfWhat
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn own(symbol: &str) -> MeasureUnit {
        MeasureUnit { symbol: symbol.into(), known: unit(symbol) }
    }

    fn turned(value: f64, word: &str, measure: &str) -> Option<f64> {
        turn(word, &own(measure)).map(|turn| turn.value(value))
    }

    #[test]
    fn units_of_one_dimension_are_turned_and_others_refused() {
        // International yard and pound agreement, 1959: 1 mil is 25.4 um.
        assert_eq!(turned(1.0, "mil", "um"), Some(25.4));
        assert_eq!(turned(3.0, "\u{b5}m", "um"), Some(3.0));
        assert_eq!(turned(3.0, "", "um"), Some(3.0));
        assert_eq!(turned(61.0, "gu", "GU"), Some(61.0));
        assert_eq!(turned(61.0, "um", "GU"), None);
        assert_eq!(turned(52.0, "%", "% humidity"), Some(52.0));
        assert_eq!(turned(1.0, "drops", "Drops"), Some(1.0));
        assert_eq!(turned(1.0, "um", "drops"), None);
    }
}

//! Turns a value into the unit of its measure.

use super::number::{self, Entry};
use crate::study::{Measure, MeasureId, MeasureKind, MeasureUnit, Study};
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

/// A number with a unit behind it.
#[derive(Debug)]
pub(super) enum Measured {
    /// In a unit of the measure; true where it has a decimal comma.
    Taken((Entry, bool), Turn),
    /// In this unit, which is another.
    Other(MeasureId, String),
}

/// `30,8 deg`: a number with its unit behind it, where that is one of the measure and the row says no other; `None` where a text
/// is no such thing.
pub(super) fn measured(
    text: &str,
    comma: bool,
    (id, measure): (MeasureId, &Measure),
    row: &str,
) -> Option<Measured> {
    let plain = |c: char| c.is_ascii_digit() || matches!(c, '<' | '.' | ',' | '-' | '+' | ' ');
    let (number, word) = text.split_at_checked(text.find(|c| !plain(c))?)?;
    let entry = number::entry(number.trim_end(), comma).ok().filter(|(entry, _)| *entry != Entry::Blank)?;
    let known = unit(word);
    let agrees = row.is_empty() || row.eq_ignore_ascii_case(word) || (known.is_some() && known == unit(row));
    match turn(word, &measure.unit) {
        Some(turn) if agrees => Some(Measured::Taken(entry, turn)),
        Some(_) => Some(Measured::Other(id, word.to_owned())),
        None => known.map(|_| Measured::Other(id, word.to_owned())),
    }
}

/// Whether a measure may have a value.
pub(super) fn is_possible(study: &Study, measure: u32, value: f64) -> bool {
    if let Some((low, high)) = possible(study, measure) {
        return low <= value && value <= high;
    }
    match study.measures.get(measure as usize).map(|measure| &measure.kind) {
        Some(MeasureKind::Rating(scale)) => scale.has(value),
        _ => false,
    }
}

/// The lowest and the highest number that a measure may have; `None` where only some between them are possible.
pub(super) fn possible(study: &Study, measure: u32) -> Option<(f64, f64)> {
    let measure = study.measures.get(measure as usize)?;
    if matches!(measure.kind, MeasureKind::Rating(_)) {
        return None;
    }
    let (low, high) = measure.possible.unwrap_or((f64::MIN, f64::MAX));
    Some((low.max(f64::MIN), high.min(f64::MAX)))
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

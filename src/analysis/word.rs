//! The words of comparison, from one rule on the interval that a table shows.

use super::model::{Interval, Side, Word};
use crate::study::{Direction, Measure};

/// The word for a simultaneous 95 % interval of a difference, in the measure's unit.
///
/// In this order: wholly within the alike limit, wholly beyond the seen limit on one side, without 0, none of these.
pub(super) fn word(interval: Interval, measure: &Measure) -> Word {
    let limit = |limit: &Option<crate::text::Located<f64>>| limit.as_ref().map(|limit| limit.value);
    let Interval { low, high } = interval;
    if limit(&measure.alike).is_some_and(|alike| low >= -alike && high <= alike) {
        Word::Alike
    } else if limit(&measure.seen).is_some_and(|seen| low >= seen || high <= -seen) {
        Word::Seen
    } else if low > 0.0 || high < 0.0 {
        Word::Measurable
    } else {
        Word::NotSettled
    }
}

/// Which way a difference points.
pub(super) fn side(difference: f64, direction: Direction) -> Side {
    let up = match direction {
        Direction::Higher => difference,
        Direction::Lower => -difference,
        Direction::Neither => 0.0,
    };
    if up > 0.0 {
        Side::Better
    } else if up < 0.0 {
        Side::Worse
    } else {
        Side::Neither
    }
}

//! Calendar arithmetic: months keep the day number or end on the last day; weeks and days are exact.

use crate::study::{Anchor, Placing, Study, Window};
use crate::units::{AnyQuantity, Quantity, unit};
use jiff::Span;
use jiff::civil::{Date, DateTime};

/// The day that lies a length of time after another one. Hours and minutes count as part of the same day.
pub(super) fn later(from: Date, time: AnyQuantity) -> Option<Date> {
    from.checked_add(span(time, 1.0)?).ok()
}

/// The window around a planned day.
pub(super) fn window(date: Date, within: Option<AnyQuantity>) -> Window {
    let around =
        |sign: f64| within.and_then(|within| date.checked_add(span(within, sign)?).ok()).unwrap_or(date);
    Window { date, first: around(-1.0), last: around(1.0) }
}

/// A tenth of a time, a day to a week.
pub(super) fn tenth(time: AnyQuantity) -> Option<AnyQuantity> {
    let days = (time.base() / 86_400.0 / 10.0).round().clamp(1.0, 7.0);
    Some(AnyQuantity { value: days, unit: unit(if days > 1.5 { "days" } else { "day" })? })
}

/// Dates anew the rounds that count from the last coat, where hands have it on on a later day than its windows alone would.
pub fn count_from_last_coat(study: &mut Study, last: DateTime) {
    study.last_by_hands = Some(last);
    for round in &mut study.rounds {
        let Placing::After(time, Anchor::LastCoat) = round.placing else { continue };
        let within = round.within.map(Quantity::any).or_else(|| tenth(time));
        round.window = later(last.date(), time).map(|date| window(date, within)).or(round.window);
    }
}

fn span(time: AnyQuantity, sign: f64) -> Option<Span> {
    let whole = (time.value - time.value.trunc()).abs() < 1e-9;
    #[allow(clippy::cast_possible_truncation, reason = "values beyond a few thousand years end as no date")]
    let count = |value: f64| (value.abs() < 1e6).then_some((value * sign) as i64);
    match (time.unit.symbol, whole) {
        ("months", true) => Span::new().try_months(count(time.value)?).ok(),
        ("years", true) => Span::new().try_years(count(time.value)?).ok(),
        // A part of a month or year has no calendar meaning of its own, so it is counted in days.
        _ => Span::new().try_days(count((time.base() / 86_400.0).floor())?).ok(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn time(value: f64, spelling: &str) -> AnyQuantity {
        AnyQuantity { value, unit: unit(spelling).unwrap() }
    }

    #[test]
    fn months_end_on_the_last_day() {
        assert_eq!(later(date(2026, 8, 31), time(6.0, "months")), Some(date(2027, 2, 28)));
        assert_eq!(later(date(2026, 1, 15), time(18.0, "months")), Some(date(2027, 7, 15)));
        assert_eq!(later(date(2026, 3, 3), time(4.0, "weeks")), Some(date(2026, 3, 31)));
        assert_eq!(later(date(2026, 3, 3), time(12.0, "h")), Some(date(2026, 3, 3)));
    }

    #[test]
    fn a_window_lies_on_both_sides() {
        let window = window(date(2026, 3, 3), Some(time(1.0, "week")));
        assert_eq!((window.first, window.last), (date(2026, 2, 24), date(2026, 3, 10)));
    }
}

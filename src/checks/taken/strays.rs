//! Readings of a round whose day is not one on which they could or should have been taken.

use crate::diag::Place;
use crate::readings::Readings;
use crate::study::{RoundId, SectionId, Study};
use jiff::civil::Date;
use std::collections::BTreeSet;

/// Readings of one round that were taken on days of a kind.
#[derive(Debug, Clone)]
pub(super) struct Strays {
    /// Sections in order of the map.
    pub(super) sections: BTreeSet<SectionId>,
    /// First and last of the days.
    pub(super) days: (Date, Date),
    /// Place of the first such reading.
    pub(super) place: Place,
    /// What their rows remark.
    pub(super) notes: BTreeSet<String>,
    /// Whether one of them has no remark.
    pub(super) unsaid: bool,
}

/// The readings of a round on days for which `odd` holds; `None` where there is none.
pub(super) fn strays(
    readings: &Readings,
    round: RoundId,
    odd: impl Fn(SectionId, Date) -> bool,
) -> Option<Strays> {
    let mut found: Option<Strays> = None;
    for cell in readings.cells().iter().filter(|cell| cell.round == round) {
        // Most cells lie on one day, so the readings themselves are looked at only where that helps.
        if cell.dates.is_none_or(|(first, last)| first == last && !odd(cell.section, first)) {
            continue;
        }
        for reading in readings.runs(cell) {
            let Some(day) = reading.date.filter(|&day| odd(cell.section, day)) else { continue };
            let strays = found.get_or_insert_with(|| Strays {
                sections: BTreeSet::new(),
                days: (day, day),
                place: reading.place,
                notes: BTreeSet::new(),
                unsaid: false,
            });
            strays.notes.extend(reading.note.map(str::to_owned));
            strays.unsaid |= reading.note.is_none();
            strays.sections.insert(cell.section);
            strays.days = (strays.days.0.min(day), strays.days.1.max(day));
            strays.place = strays.place.min(reading.place);
        }
    }
    found
}

/// The day of the first coat: as recorded, else as planned.
pub(super) fn first_coat_day(study: &Study) -> Option<Date> {
    let coats = study.done.iter().filter(|done| matches!(done.what, crate::study::DoneWhat::Coat(..)));
    let done = coats.map(|done| done.date.value).min();
    done.or_else(|| Some(study.first_coat()?.date()))
}

//! Coats that by the record went on sooner or later after the one before than their window allows.

use super::coats::later;
use super::{Done, DoneWhat, ProductId, Study};
use crate::speech::count;
use crate::units::{Range, Time};
use jiff::SignedDuration;
use jiff::civil::DateTime;

/// A coat that was put on outside its window.
#[derive(Debug, Clone, Copy)]
pub struct CoatGap<'s> {
    /// The product.
    pub product: ProductId,
    /// The number of the coat.
    pub number: u32,
    /// Its record.
    pub done: &'s Done,
    /// The record of the coat before.
    pub before: &'s Done,
    /// The window as the study states it.
    pub window: Range<Time>,
    /// Too late, else too soon.
    pub late: bool,
    /// The time between: the least that it may have been where it was too late, else the most.
    pub gap: SignedDuration,
    /// True where both hours are on record, so that the time between is known.
    pub exact: bool,
}

impl CoatGap<'_> {
    /// The time between, as `50 h 50 min` or `12 days 3 h`; what is not known to the minute is rounded towards the window.
    pub fn hours(&self) -> String {
        let minutes = if self.late { self.gap.as_mins() } else { whole_minutes(self.gap) };
        let (hours, minutes) = (minutes / 60, minutes % 60);
        if hours >= LONG_H {
            let days = count(usize::try_from(hours / 24).unwrap_or_default(), "day");
            let rest = hours % 24;
            return if rest == 0 { days } else { format!("{days} {rest} h") };
        }
        match (hours, minutes) {
            (0, minutes) => format!("{minutes} min"),
            (hours, 0) => format!("{hours} h"),
            (hours, minutes) => format!("{hours} h {minutes} min"),
        }
    }
}

/// From so many hours on a time is told in days.
const LONG_H: i64 = 96;

fn whole_minutes(gap: SignedDuration) -> i64 {
    let whole = gap.as_mins();
    if SignedDuration::from_mins(whole) < gap { whole + 1 } else { whole }
}

impl Study {
    /// The coats that were put on outside their window, however missing hours are filled in, in the order of the record.
    pub fn coat_gaps(&self) -> impl Iterator<Item = CoatGap<'_>> {
        self.done.iter().filter_map(|done| self.coat_gap(done))
    }

    /// The same of one record; none of a coat that is on record before the one that it goes on.
    pub fn coat_gap<'s>(&'s self, done: &'s Done) -> Option<CoatGap<'s>> {
        let (number, product) = done.coat()?;
        let window = self.product(product).coat(number).after.filter(|_| !self.product(product).broken)?;
        let before = self.coat_before(done).filter(|before| done.latest() >= before.earliest())?;
        let between = |from: DateTime, to: DateTime| to.duration_since(from);
        let exact = done.time.is_some() && before.time.is_some();
        let of = |late, gap| CoatGap { product, number, done, before, window, late, gap, exact };
        // One time alone is the shortest that a sheet allows; only a range has an end.
        let ends = window.low != window.high;
        if ends && later(before.latest(), window.high)? < done.earliest() {
            return Some(of(true, between(before.latest(), done.earliest())));
        }
        let soon = done.latest() < later(before.earliest(), window.low)?;
        soon.then(|| of(false, between(before.earliest(), done.latest())))
    }

    /// The record of the coat before, on a section that both share.
    pub fn coat_before(&self, done: &Done) -> Option<&Done> {
        let (number, product) = done.coat()?;
        let before = number.checked_sub(1).map(|number| (number, product));
        self.done.iter().find(|other| other.meets(done) && other.coat() == before)
    }
}

impl Done {
    /// The number of the coat and its product, where it is one.
    pub fn coat(&self) -> Option<(u32, ProductId)> {
        match &self.what {
            DoneWhat::Coat(number, product) => Some((*number, product.value)),
            DoneWhat::Prep(_) => None,
        }
    }
}

//! When each coat goes on: by the record as far as it goes, else by the run of the day, which is what all papers say.

use super::{HOURS, Run, ends_in_turn, run};
use crate::study::{DoneWhat, ProductId, Study};
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime, Time, time};

/// The hour that is taken where the study names none.
pub const MORNING: Time = time(8, 0, 0, 0);

/// The days of the coats.
#[derive(Debug)]
pub struct Planned<'s> {
    study: &'s Study,
    run: Option<Run>,
    start: Option<DateTime>,
}

/// The coats of a study by the calendar.
pub fn planned(study: &Study) -> Planned<'_> {
    let start = start_of(study);
    Planned { run: start.start.and_then(|_| run(study)), ..start }
}

/// When hands have the last coat of all on, where that is on a later day than its windows alone would have it: what counts from the
/// last coat counts from there on every paper.
pub fn later_last_coat(study: &Study) -> Option<DateTime> {
    let alone = study.last_of_all_coats()?;
    // Orders are looked for only where the slowest of them ends on another day.
    let slowest = start_of(study).moment(ends_in_turn(study)?)?;
    if slowest.date() <= alone.date() {
        return None;
    }
    let planned = planned(study);
    let laid = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let last = laid.filter_map(|(id, product)| planned.laid_last(id, product.coats_number())).max()?;
    (last.date() > alone.date()).then_some(last)
}

/// The moment from which a run counts, without the run.
fn start_of(study: &Study) -> Planned<'_> {
    let apply = study.apply.as_ref();
    let from = apply.and_then(|apply| apply.from).unwrap_or(MORNING);
    let on = apply.and_then(|apply| apply.on.as_ref());
    Planned { study, run: None, start: on.map(|on| on.value.to_datetime(from)) }
}

impl Planned<'_> {
    /// The moment at which a coat goes on the last of its sections.
    fn laid_last(&self, id: ProductId, number: u32) -> Option<DateTime> {
        if self.is_on_record(id) {
            return self.in_hours(id, number);
        }
        let last = self.acts(id, number).max().and_then(|begins| self.moment(begins));
        last.or_else(|| self.study.coat_at(id, number))
    }

    /// The moment of a coat of a product.
    pub fn coat_at(&self, id: ProductId, number: u32) -> Option<DateTime> {
        if self.is_on_record(id) {
            return self.in_hours(id, number);
        }
        let acts = self.acts(id, number).map(|begins| self.moment(begins));
        acts.min().unwrap_or_else(|| self.study.coat_at(id, number))
    }

    /// Every day on which a coat goes on, since parts of it may be laid on on several.
    pub fn coat_days(&self, id: ProductId, number: u32) -> Vec<Date> {
        let recorded = self.study.done.iter().filter_map(|done| match &done.what {
            DoneWhat::Coat(laid, product) if product.value == id && *laid == number => Some(done.date.value),
            _ => None,
        });
        let mut days: Vec<Date> = recorded.collect();
        if days.is_empty() && !self.is_on_record(id) {
            days =
                self.acts(id, number).filter_map(|begins| self.moment(begins)).map(DateTime::date).collect();
        }
        if days.is_empty() {
            days.extend(self.coat_at(id, number).map(DateTime::date));
        }
        days.sort_unstable();
        days.dedup();
        days
    }

    fn is_on_record(&self, id: ProductId) -> bool {
        let of = |what: &DoneWhat| matches!(what, DoneWhat::Coat(_, product) if product.value == id);
        self.study.done.iter().any(|done| of(&done.what))
    }

    fn acts(&self, id: ProductId, number: u32) -> impl Iterator<Item = i64> {
        let acts = self.run.iter().flat_map(|run| &run.acts);
        let own =
            acts.filter(move |act| act.product == Some(id) && act.coat == number && act.work.is_laying());
        own.map(|act| act.begins)
    }

    fn moment(&self, seconds: i64) -> Option<DateTime> {
        self.start?.checked_add(SignedDuration::from_secs(seconds)).ok()
    }

    /// What follows a coat that is on record: at the start of its window, or on the next morning where nobody works then.
    fn in_hours(&self, id: ProductId, number: u32) -> Option<DateTime> {
        let at = self.study.coat_at(id, number)?;
        let is_done = self.study.done.iter().any(|done| {
            matches!(&done.what, DoneWhat::Coat(laid, product) if product.value == id && *laid == number)
        });
        let morning = self.start.map_or(MORNING, DateTime::time);
        let Some(evening) = at.date().to_datetime(morning).checked_add(SignedDuration::from_secs(HOURS)).ok()
        else {
            return Some(at);
        };
        if is_done || at <= evening {
            return Some(at);
        }
        at.date().tomorrow().ok().map(|day| day.to_datetime(morning))
    }
}

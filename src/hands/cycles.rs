//! When the first cycle may begin, and by when the last has to: a cycle has no day of its own.

use super::planned;
use crate::study::{Cost, Round, Step, Study, Verb, Window, later};
use crate::units::Quantity;
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime, Time};

/// The days between which cycles are done.
#[derive(Debug)]
pub struct Cycles<'s> {
    /// The day by which every coat has cured, by the plan; `None` where the time of one is not stated. Marks go into a coat.
    pub cured: Option<Date>,
    /// The fresh round with its day, since it reads the same patches before.
    pub fresh: Option<(&'s Round, Date)>,
    /// The first day on which cycle 1 may begin; `None` where the plan does not tell it.
    pub first: Option<Date>,
    /// What ends them.
    pub over: Option<Over<'s>>,
}

/// The round before which the last cycle is read, since its readings destroy what cycles need.
#[derive(Debug)]
pub struct Over<'s> {
    /// The round.
    pub round: &'s Round,
    /// Its day.
    pub date: Date,
    /// What a cycle takes at the least, in seconds, with the last day on which one is begun; `None` where no wait of it is stated.
    pub last: Option<(f64, Date)>,
}

/// The days of the cycles; `None` where a study has none.
pub fn cycles(study: &Study) -> Option<Cycles<'_>> {
    study.cycle.as_ref()?;
    let cured = cured(study).map(DateTime::date);
    let fresh = fresh(study).map(|(round, window)| (round, window.date));
    let first = cured.map(|cured| fresh.map_or(cured, |(_, date)| cured.max(date)));
    Some(Cycles { cured, fresh, first, over: over(study, first) })
}

fn over(study: &Study, first: Option<Date>) -> Option<Over<'_>> {
    let destroys = |round: &&Round| {
        round
            .reads
            .iter()
            .any(|plan| study.gauges_of(plan.measure.value).any(|gauge| gauge.cost == Some(Cost::Destroys)))
    };
    let ends = study.rounds.iter().filter(destroys).filter_map(|round| Some((round, round.window?.date)));
    let (round, date) =
        ends.filter(|(_, date)| first.is_none_or(|first| *date > first)).min_by_key(|(_, date)| *date)?;
    let seconds = length_s(study);
    let last = last_begin(date, seconds).filter(|_| seconds > 0.0).map(|last| (seconds, last));
    Some(Over { round, date, last })
}

/// The last day from whose start a cycle is over before another day.
fn last_begin(date: Date, seconds: f64) -> Option<Date> {
    let ends = date.to_datetime(Time::midnight());
    Some(ends.checked_sub(SignedDuration::try_from_secs_f64(seconds).ok()?).ok()?.date())
}

/// What a cycle takes of time by its waits: marks lie on together, the rest follows one after the other.
fn length_s(study: &Study) -> f64 {
    let waits = |is_mark: bool| {
        let steps = study.cycle_steps().filter(move |step| (step.verb == Verb::Mark) == is_mark);
        steps.filter_map(|step: &Step| step.wait).map(Quantity::seconds)
    };
    waits(true).fold(0.0, f64::max) + waits(false).sum::<f64>()
}

/// When the last product has cured; `None` where the time of one is not stated.
fn cured(study: &Study) -> Option<DateTime> {
    let planned = planned(study);
    let laid = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let cures = laid.map(|(id, product)| {
        let at = planned.coat_at(id, product.coats_number())?;
        later(at, product.cure.as_ref()?.value)
    });
    cures.collect::<Option<Vec<DateTime>>>()?.into_iter().max()
}

fn fresh(study: &Study) -> Option<(&Round, Window)> {
    let round = study.round(study.round_named("fresh")?);
    round.window.filter(|_| !round.reads.is_empty()).map(|window| (round, window))
}

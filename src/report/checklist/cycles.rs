//! When the first cycle may begin, and by when the last has to: a cycle has no day of its own.

use super::super::numbers::{amount, day};
use crate::hands::planned;
use crate::speech::{round_name, say};
use crate::study::{Cost, Round, Step, Study, Verb, Window, later};
use crate::units::Quantity;
use jiff::SignedDuration;
use jiff::civil::{Date, DateTime};

/// The first day on which cycle 1 may begin; `None` where the plan does not tell it.
pub(in crate::report) fn first_day(study: &Study) -> Option<Date> {
    study.cycle.as_ref()?;
    let cured = cured(study)?.date();
    Some(fresh(study).map_or(cured, |(_, window)| cured.max(window.date)))
}

/// What has to be over before cycle 1: marks go into a coat that has not cured, and the fresh round reads the same patches.
pub(in crate::report) fn begins(study: &Study) -> String {
    let cured = cured(study).map(|at| day(at.date()));
    match (fresh(study), cured) {
        (Some((round, window)), Some(cured)) => say!(
            "Cycle 1 begins when every coat has cured, by the plan on {cured}, and round {round} is read, planned for {day}.",
            cured,
            round = round_name(&round.name.value),
            day = day(window.date)
        ),
        (Some((round, window)), None) => say!(
            "Cycle 1 begins when every coat has cured, as its data sheet says, and round {round} is read, planned for {day}.",
            round = round_name(&round.name.value),
            day = day(window.date)
        ),
        (None, Some(cured)) => {
            say!("Cycle 1 begins when every coat has cured, by the plan on {cured}.", cured)
        }
        (None, None) => say!("Cycle 1 begins when every coat has cured, as its data sheet says.").to_owned(),
    }
}

/// By when the last cycle is over, where a later round destroys what it reads.
pub(in crate::report) fn ends(study: &Study) -> Option<String> {
    study.cycle.as_ref()?;
    let destroys = |round: &&Round| {
        round
            .reads
            .iter()
            .any(|plan| study.gauges_of(plan.measure.value).any(|gauge| gauge.cost == Some(Cost::Destroys)))
    };
    let ends = study.rounds.iter().filter(destroys).filter_map(|round| Some((round, round.window?)));
    let begins = first_day(study);
    let (round, window) = ends
        .filter(|(_, window)| begins.is_none_or(|first| window.date > first))
        .min_by_key(|(_, window)| window.date)?;
    let round = round_name(&round.name.value);
    let over = say!(
        "The last cycle is read before round {round}, planned for {day}, whose readings destroy their places.",
        round,
        day = day(window.date)
    );
    let seconds = length_s(study);
    let Some(last) = last_begin(window.date, seconds).filter(|_| seconds > 0.0) else { return Some(over) };
    let hours = (seconds / 360.0).ceil() / 10.0;
    let most = say!(
        "A cycle takes {time} at least, so that none is begun after {last}.",
        time = amount(&format!("{hours} h")),
        last = day(last)
    );
    Some(format!("{over} {most}"))
}

/// The last day from whose start a cycle is over before another day.
fn last_begin(date: Date, seconds: f64) -> Option<Date> {
    let ends = date.to_datetime(jiff::civil::Time::midnight());
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

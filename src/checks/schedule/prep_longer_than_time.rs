//! A preparation whose waits are longer than the time until the products go on.

use super::when::{later, minute};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{DoneWhat, SpecimensId, Step, Study};
use crate::units::{Quantity, Time, decimal};
use jiff::civil::{Date, DateTime, time};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "prep-longer-than-time",
        severity: Severity::Warning,
        what: "The waits and dwells of a preparation, one after the other from the day on which the work begins, end after the first \
               coat is to go on. The work itself is not counted, so that the true time is longer. The preparation of specimens is \
               counted by itself.",
        why: "On the day of the application a wait is then cut short, and products go on a surface that is wet, soft or warm.",
        mend: "Move `on` under `apply`, begin earlier, or correct the wait.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry         3 days
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry         2 h
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // What was coated has had the time that it had.
    let is_coated = study.done.iter().any(|done| matches!(done.what, DoneWhat::Coat(..)));
    if !is_coated && !study.prep_broken {
        findings.extend(study.preparations().filter_map(|set| late(study, set)));
    }
}

fn late(study: &Study, set: Option<SpecimensId>) -> Option<Finding> {
    let (begins, apply) = (study.begins.as_ref()?, study.apply.as_ref()?);
    let on = apply.on.as_ref()?.value;
    if apply.broken || on < begins.value {
        return None;
    }
    // Where no hour is stated the whole day may pass.
    let hour = apply.from.unwrap_or(time(23, 59, 0, 0));
    let steps = study.prep_of(set);
    let begun = begins.value.at(0, 0, 0, 0);
    let over = steps.iter().flat_map(waits).try_fold(begun, later)?;
    if over <= on.to_datetime(hour) {
        return None;
    }
    let first = first_day(over, hour)?;
    let late_by = on.until(first).ok()?.get_days();
    let earlier = begins.value.checked_sub(jiff::Span::new().days(late_by)).ok()?;
    let of = set.map_or_else(String::new, |set| format!(" of `{}`", study.specimens[set.index()].name.value));
    let message = format!(
        "the waits of the preparation{of} last {} from {} on, and the first coat goes on on {}",
        length(begun, over),
        begins.value,
        if apply.from.is_some() { minute(on.to_datetime(hour)) } else { on.to_string() }
    );
    let help =
        format!("write `on {first}` under `apply` or later, or let the work begin on {earlier} or earlier");
    let longest = steps.iter().max_by(|one, other| seconds(one).total_cmp(&seconds(other)));
    let place = if apply.stated { apply.on.as_ref()?.span } else { begins.span };
    let finding = Finding::warning(CHECK.page.code, place, message).help(help).about("prep").about("apply");
    Some(match longest {
        Some(step) => finding.related(step.span, "the longest wait"),
        None => finding,
    })
}

/// How long a step acts and what is waited after it, as often as it is done.
fn waits(step: &Step) -> impl Iterator<Item = Quantity<Time>> {
    let once = step.dwell.as_ref().map(|dwell| dwell.value.low).into_iter().chain(step.wait);
    std::iter::repeat_n(once, step.times.min(MOST_TIMES) as usize).flatten()
}

/// More repeats than this add nothing that a date could hold.
const MOST_TIMES: u32 = 100;

fn seconds(step: &Step) -> f64 {
    waits(step).map(Quantity::seconds).sum()
}

/// The first day on whose hour all waits are over.
fn first_day(over: DateTime, hour: jiff::civil::Time) -> Option<Date> {
    if over.time() <= hour { Some(over.date()) } else { over.date().tomorrow().ok() }
}

/// `5 days`, `26 h`.
fn length(from: DateTime, to: DateTime) -> String {
    let hours = from.duration_until(to).as_secs_f64() / 3600.0;
    if hours >= 48.0 {
        format!("{} days", decimal((hours / 24.0 * 10.0).round() / 10.0))
    } else {
        format!("{} h", decimal((hours * 10.0).round() / 10.0))
    }
}

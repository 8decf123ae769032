//! A later coat that was put on sooner or later than its window allows.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, DoneWhat, ProductId};
use crate::units::{Range, Time};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "second-coat-outside-window",
        severity: Severity::Warning,
        what: "The record says that a coat went on sooner after the one before, or later, than `coats` allows. \
               One time alone, as `after 12 h`, is the shortest; only a range has an end. \
               Where an hour is missing, only a gap that is surely outside is reported.",
        why: "A coat on a film that is too soft lifts it, and a coat on a film that is too hard does not bond. \
              What is then read is the slip, not the product.",
        mend: "If the record is wrong, correct it. If it is right, leave it: say what happened in a waiver, or \
               give the section up.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
              coats       2   after 1 to 3 h\n    sheet       \"bay-sheet.pdf\"\n\
              done 2026-03-03 10:00  coat 1 of bay\ndone 2026-03-03 15:00  coat 2 of bay\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               coats       2   after 1 to 3 h\n    sheet       \"bay-sheet.pdf\"\n\
               done 2026-03-03 10:00  coat 1 of bay\ndone 2026-03-03 12:00  coat 2 of bay\n",
        source: "common practice, no source; the window is that of the product's own sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for done in &study.done {
        if let Some((number, product)) = coat(done) {
            findings.extend(outside(context, done, number, product));
        }
    }
}

fn coat(done: &Done) -> Option<(u32, ProductId)> {
    match &done.what {
        DoneWhat::Coat(number, product) => Some((*number, product.value)),
        DoneWhat::Prep(_) => None,
    }
}

fn outside(context: &Context<'_>, done: &Done, number: u32, id: ProductId) -> Option<Finding> {
    let study = context.study;
    let product = study.product(id);
    let after = product.coat(number).after.filter(|_| !product.broken)?;
    let earlier = study
        .done
        .iter()
        .find(|other| other.meets(done) && coat(other) == number.checked_sub(1).map(|number| (number, id)))?;
    let name = &product.name.value;
    let before = number - 1;
    let message = if done.latest() < earlier.earliest() {
        // A day that has not come yet is a slip that is said by itself.
        if context.today.is_some_and(|today| earlier.date.value > today) {
            return None;
        }
        format!(
            "coat {number} of `{name}` is recorded on {}, before coat {before} on {}",
            done.moment(),
            earlier.moment()
        )
    } else {
        let fault = fault(earlier, done, after)?;
        let lies = between(earlier, done).map_or_else(String::new, |time| format!("{time} behind it, "));
        format!("coat {number} of `{name}` went on {fault} coat {before}: {lies}and its window is {after}")
    };
    let finding = Finding::warning(CHECK.page.code, done.place, message)
        .related(earlier.place, "the coat before")
        .help("correct the record, or say in a waiver what happened")
        .about(name);
    let codes = done.sections.iter().map(|&section| study.section(section).code.clone());
    Some(codes.fold(finding, Finding::about))
}

/// How long after the coat before it went on, where both hours are known.
fn between(earlier: &Done, done: &Done) -> Option<String> {
    let minutes = (done.earliest() == done.latest() && earlier.earliest() == earlier.latest())
        .then(|| done.earliest().duration_since(earlier.earliest()).as_mins())?;
    Some(match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    })
}

/// `too soon after` or `too late after`, where that holds however the missing hours are filled in.
fn fault(earlier: &Done, done: &Done, after: Range<Time>) -> Option<&'static str> {
    // One time alone is the shortest that a sheet allows; only a range has an end.
    let ends = after.low != after.high;
    if ends && when::later(earlier.latest(), after.high)? < done.earliest() {
        return Some("too late after");
    }
    (done.latest() < when::later(earlier.earliest(), after.low)?).then_some("too soon after")
}

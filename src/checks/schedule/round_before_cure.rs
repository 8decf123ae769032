//! A round after apply that may be read before a product has cured.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Round;
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "round-before-cure",
        severity: Severity::Warning,
        what: "A round after apply may be read before a product on the map has cured. The first day of its \
               window is compared with the product's last coat plus its `cure`; once the round was read, the day of its first reading.",
        why: "A film that still cures changes by itself. A reading of it is no starting point, and products \
              that cure fast look better than products that cure slowly.",
        mend: "Move the round, or narrow its `within`, so that its first day lies on or after the day on \
               which the slowest product has cured.",
        bad: "rounds\n    baseline    after wipe\n    fresh       4 days after apply  within 1 day\n    \
              month 3     within 3 days\n    every round gloss-20 5 times\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source; the time is that of the product's own sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let cures = when::cures(study);
    for (id, round) in study.rounds_with_ids() {
        if when::before_apply(study, round) == Some(false) {
            // A reading before the first coat is a slip, and another finding.
            let coated = |day: &Date| study.first_coat().is_none_or(|coat| *day >= coat.date());
            let read = context.readings.dates(id).map(|(first, _)| first).filter(coated);
            findings.extend(early(round, read, &cures));
        }
    }
}

/// Once a round was read, the day of its first reading counts, and not its window.
fn early(round: &Round, read: Option<Date>, cures: &[when::Wait<'_>]) -> Option<Finding> {
    let window = round.window?;
    let first = read.unwrap_or(window.first);
    let waits = when::unfinished(cures, first);
    let over = waits.iter().map(|wait| wait.over.date()).max()?;
    let name = &round.name.value;
    let (how, day) = match read {
        Some(read) => ("was read from", read),
        None if over > window.date => ("is planned for", window.date),
        None => ("may be read from", window.first),
    };
    let message = format!("`{name}` {how} {day}, before the film of {} has cured", when::told(&waits));
    let mut finding = Finding::warning(CHECK.page.code, round.name.span, message)
        .help(help(round, read, (window.date, over)))
        .about(name);
    // With several products the round alone is its place, or a waiver for one would hide the others.
    if let [only] = waits.as_slice() {
        finding = finding.related(only.product.name.span, "cures here").about(&only.product.name.value);
    }
    Some(finding)
}

fn help(round: &Round, read: Option<Date>, (planned, over): (Date, Date)) -> String {
    let name = &round.name.value;
    if read.is_some() {
        return "correct the dates if they are a slip; else say in a waiver why it was read so early"
            .to_owned();
    }
    // Where only a window that nobody wrote reaches too far, its width is what to mend.
    let spare = over.until(planned).map_or(-1, |span| span.get_days());
    match round.within {
        None if spare >= 1 => {
            let days = if spare == 1 { "1 day".to_owned() } else { format!("{spare} days") };
            format!(
                "its window is the default; write `within {days}` in the line of `{name}`, or let it begin on {over} or later"
            )
        }
        _ => format!("let `{name}` begin on {over} or later"),
    }
}

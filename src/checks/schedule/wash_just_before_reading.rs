//! A wash right before a reading, with nothing that dries the panel.

use super::water::{dries, is_wet};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Study, Upkeep};
use crate::units::{Quantity, Time};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "wash-just-before-reading",
        severity: Severity::Warning,
        what: "The last wash or rinse before a round is followed by no `dry` and no wait. As advice: a wash of \
               upkeep falls on the day of a round, and nothing before the round dries the panel.",
        why: "Water and what it leaves on the film change gloss, contact angle and film readings, and they do \
              it more on some products than on others.",
        mend: "End the steps before each round with `dry, wait 2 h`.",
        bad: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
              month 3     within 3 days\n    every round gloss-20 5 times\n    \
              before each round  wash with soap, rinse\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n    \
               before each round  wash with soap, rinse, dry, wait 2 h\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.rounds_broken || study.rounds.is_empty() {
        return;
    }
    let steps = &study.before_each_round;
    if let Some(last) = steps.iter().rposition(is_wet) {
        if !steps.iter().skip(last).any(dries) {
            let step = &steps[last];
            let message =
                format!("the {} before each round is followed by no `dry` and no wait", step.verb.word());
            let finding = Finding::warning(CHECK.page.code, step.span, message)
                .help("end these steps with `dry, wait 2 h`");
            findings.push(finding.about("rounds"));
        }
    } else if !steps.iter().any(dries) {
        findings.extend(study.upkeep.iter().filter_map(|upkeep| same_day(study, upkeep)));
    }
}

/// The first round on whose planned day a wash of upkeep falls.
fn same_day(study: &Study, upkeep: &Upkeep) -> Option<Finding> {
    let Upkeep::Every { every, step, span, .. } = upkeep else { return None };
    if !is_wet(step) || dries(step) {
        return None;
    }
    let start = study.upkeep_begins(upkeep)?.date();
    let round =
        study.rounds.iter().find(|round| round.date().is_some_and(|day| falls_on(start, *every, day)))?;
    let (name, verb) = (&round.name.value, step.verb.word());
    let message =
        format!("a {verb} of upkeep falls on the day of `{name}`, and nothing dries the panel before it");
    let finding = Finding::advice(CHECK.page.code, *span, message)
        .related(round.name.span, "read on that day")
        .help("write `before each round  dry, wait 2 h` under `rounds`");
    Some(finding.about(name).about("upkeep"))
}

/// Whether a day is `start` or whole multiples of `every` later, for steps of whole days.
fn falls_on(start: Date, every: Quantity<Time>, day: Date) -> bool {
    let days = every.seconds() / 86_400.0;
    // Months do not come back at equal distances, so they are left out rather than guessed.
    if days < 1.0 || days.fract() != 0.0 || day < start {
        return false;
    }
    let gap = start.duration_until(day).as_secs_f64() / 86_400.0;
    (gap / days).fract() == 0.0
}

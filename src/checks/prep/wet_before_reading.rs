//! A round that is read on a wet surface.

use super::steps::wets;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "wet-before-reading",
        severity: Severity::Warning,
        what: "What is done before each round wets the surface and does not dry it.",
        why: "Water on the surface changes gloss, colour and drop readings, and spots where it dries by itself.",
        mend: "Add `dry`, and a wait, to `before each round`.",
        bad: "rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse
",
        good: "rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps = &context.study.before_each_round;
    let Some(at) = steps.iter().rposition(|step| wets(context, step)) else { return };
    let dries = |step: &Step| step.verb == Verb::Dry || step.wait.is_some();
    if context.study.rounds_broken || steps[at..].iter().any(dries) {
        return;
    }
    let message = format!("each round is read on what `{}` leaves wet", steps[at].verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, steps[at].span, message)
            .label("every section, at every round")
            .help("add `dry, wait 2 h` to `before each round`")
            .about("rounds"),
    );
}

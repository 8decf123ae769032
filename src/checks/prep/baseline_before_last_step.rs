//! A baseline that is read before preparation is over.

use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Anchor, Placing, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "baseline-before-last-step",
        severity: Severity::Warning,
        what: "The baseline is read after a step that others still follow, which change the surface.",
        why: "The baseline is what every change is counted from. Read before the last polish or wipe it is that of another surface.",
        mend: "Read it after the last step that touches the surface: `baseline after wipe`.",
        bad: "rounds
    baseline    after polish
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
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
    let study = context.study;
    let Some(round) = study.round_named("baseline").map(|id| study.round(id)) else { return };
    let Placing::At(Anchor::Step(at)) = round.placing else { return };
    let changes =
        |verb| !matches!(verb, Verb::Tape | Verb::Label | Verb::Read | Verb::Wait | Verb::Dry | Verb::Dust);
    let Some(later) = prep(context).iter().skip(at + 1).find(|step| changes(step.verb)) else { return };
    let message = format!("`baseline` is read before `{}`, which changes the surface", later.verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, round.name.span, message)
            .related(later.span, "this comes after it")
            .help("write `baseline after` and the last step that touches the surface, as `wipe`")
            .about("baseline")
            .about("prep"),
    );
}

//! Rounds that count from apply in a study that does not say when that is.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Anchor, Placing, Round};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-apply-date",
        severity: Severity::Warning,
        what: "Rounds count their time from apply, and the study does not say on which day the products go on.",
        why: "Without that day no round has a date: the calendar is empty, and no reading can be late.",
        mend: "Write `on 2026-04-14` under `apply`; the day may be changed later.",
        bad: "apply\n    surface     at least 3 degC above dew point\n",
        good: "apply\n    on          2026-03-03 from 09:00\n    surface     at least 3 degC above dew point\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let apply = study.apply.as_ref();
    if apply.is_some_and(|apply| apply.broken || apply.on.is_some()) {
        return;
    }
    let waiting: Vec<String> = study
        .rounds
        .iter()
        .filter(|round| waits_for_apply(round))
        .map(|round| format!("`{}`", round.name.value))
        .collect();
    if waiting.is_empty() {
        return;
    }
    let place = apply.map(|apply| apply.span).or(study.rounds_span).unwrap_or_default();
    let message =
        format!("{} cannot be dated: the study does not say when products go on", list(&waiting, "and"));
    let finding =
        Finding::warning(CHECK.page.code, place, message).help("write `on 2026-04-14` under `apply`");
    findings.push(finding.about("apply").about("rounds"));
}

fn waits_for_apply(round: &Round) -> bool {
    let coats = |anchor| matches!(anchor, Anchor::FirstCoat | Anchor::LastCoat | Anchor::BeforeApply);
    match round.placing {
        Placing::After(_, anchor) | Placing::At(anchor) => round.window.is_none() && coats(anchor),
        Placing::On | Placing::Cycle(_) | Placing::Unplaced => false,
    }
}

//! Rounds that count from the day the panel is put out, in a study that does not say when that is.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Anchor, Placing, Round};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-put-out-date",
        severity: Severity::Warning,
        what: "Rounds count their time from `put out`, and the study does not say on which day that is.",
        why: "Without that day these rounds have no date: they are not in the calendar and cannot be late.",
        mend: "Write `put out 2026-04-23` under `exposure`.",
        bad: "exposure \"Test yard\"\n    faces south\nrounds\n    baseline    after wipe\n    \
              fresh       8 days after apply  within 1 day\n    summer      12 weeks after put out\n    \
              month 3     within 3 days\n    every round gloss-20 5 times\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    summer      20 weeks after put out\n    \
               every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.exposures.iter().any(|exposure| exposure.broken || exposure.put_out.is_some()) {
        return;
    }
    let waiting: Vec<&Round> = study.rounds.iter().filter(|round| waits_for_it(round)).collect();
    let Some(first) = waiting.first() else { return };
    let names: Vec<String> = waiting.iter().map(|round| format!("`{}`", round.name.value)).collect();
    let message =
        format!("{} cannot be dated: the study does not say when the panel is put out", list(&names, "and"));
    let finding = Finding::warning(CHECK.page.code, first.name.span, message)
        .help("write `put out 2026-04-23` under `exposure`");
    findings.push(finding.about("exposure").about("rounds"));
}

fn waits_for_it(round: &Round) -> bool {
    let anchored = matches!(round.placing, Placing::After(_, Anchor::PutOut) | Placing::At(Anchor::PutOut));
    anchored && round.window.is_none()
}

//! A round that is dated before the study begins.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "round-before-begins",
        severity: Severity::Warning,
        what: "A round is planned for a day before the study begins.",
        why: "One of the two dates is a slip, most often the year.",
        mend: "Correct the date of the round, or `begins` under `study`.",
        bad: "rounds\n    baseline    on 2026-02-20\n    fresh       8 days after apply  within 1 day\n    \
              month 3     within 3 days\n    every round gloss-20 5 times\n--- date 2026-02-15\n",
        good: "rounds\n    baseline    on 2026-03-02\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(begins) = study.begins.as_ref() else { return };
    // Rounds that count from apply inherit its slip, which is reported there.
    let apply = study.apply.as_ref().and_then(|apply| apply.on.as_ref());
    if apply.is_some_and(|on| on.value < begins.value) {
        return;
    }
    for round in &study.rounds {
        let Some(date) = round.date().filter(|&date| date < begins.value) else { continue };
        let name = &round.name.value;
        let message = format!("`{name}` is planned for {date}, and the study begins on {}", begins.value);
        let finding = Finding::warning(CHECK.page.code, round.name.span, message)
            .related(begins.span, "the study begins")
            .help("correct one of the two dates");
        findings.push(finding.about(name));
    }
}

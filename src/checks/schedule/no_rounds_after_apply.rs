//! A study that reads nothing after the products went on.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-rounds-after-apply",
        severity: Severity::Warning,
        what: "All rounds of the study lie before apply.",
        why: "A comparison of products needs at least one reading after they went on.",
        mend: "Add rounds that count from apply: `fresh  8 days after apply`, `month 3  within 3 days`.",
        bad: "rounds\n    baseline    after wipe    gloss-20 5 times\nstudy \"Three sealers\"\n    \
              author      \"Frame bench\"\n    begins      2026-03-02\n    bought unless said\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let sides = || study.rounds.iter().map(|round| when::before_apply(study, round));
    if study.rounds_broken || sides().any(|before| before != Some(true)) {
        return;
    }
    // Rounds that are missing, or of which there are none, have a finding of their own.
    let Some(place) = study.rounds_span.filter(|_| !study.rounds.is_empty()) else { return };
    let finding = Finding::warning(CHECK.page.code, place, "no round lies after apply").help(
        "add rounds that count from apply, as `fresh  8 days after apply` and `month 3  within 3 days`",
    );
    findings.push(finding.about("rounds").about("study"));
}

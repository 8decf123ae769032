//! A round after apply that may be read before a product has cured.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Round;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "round-before-cure",
        severity: Severity::Warning,
        what: "A round after apply may be read before a product on the map has cured. The first day of its \
               window is compared with the product's last coat plus its `cure`.",
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
    for round in &study.rounds {
        if when::before_apply(study, round) == Some(false) {
            findings.extend(early(round, &cures));
        }
    }
}

fn early(round: &Round, cures: &[when::Wait<'_>]) -> Option<Finding> {
    let window = round.window?;
    let waits = when::unfinished(cures, window.first);
    let over = waits.iter().map(|wait| wait.over.date()).max()?;
    let name = &round.name.value;
    let planned = if over > window.date { "is planned for" } else { "may be read from" };
    let day = if over > window.date { window.date } else { window.first };
    let message = format!("`{name}` {planned} {day}, before the film of {} has cured", when::told(&waits));
    let mut finding = Finding::warning(CHECK.page.code, round.name.span, message)
        .help(format!("let `{name}` begin on {over} or later"))
        .about(name);
    // With several products the round alone is its place, or a waiver for one would hide the others.
    if let [only] = waits.as_slice() {
        finding = finding.related(only.product.name.span, "cures here").about(&only.product.name.value);
    }
    Some(finding)
}

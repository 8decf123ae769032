//! A baseline that is read when the products are already on.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Anchor, Placing, Round};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "baseline-after-apply",
        severity: Severity::Error,
        what: "The round `baseline` is planned for a day after the products go on.",
        why: "The baseline shows what each place of the panel was before anything went on. Read later it shows \
              product and place together, and no change can be counted from it.",
        mend: "Read it before the first coat, as `baseline  after wipe`, or give the round another name.",
        bad: "rounds\n    baseline    on 2026-03-05\n    fresh       8 days after apply  within 1 day\n    \
              month 3     within 3 days\n    every round gloss-20 5 times\n",
        good: "rounds\n    baseline    on 2026-03-02\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let apply = study.apply.as_ref().filter(|apply| !apply.broken);
    let on = apply.and_then(|apply| apply.on.as_ref());
    let Some(round) = study.rounds.iter().find(|round| round.name.value == "baseline") else { return };
    if !is_late(round, on.map(|on| on.value)) {
        return;
    }
    let message = match round.date() {
        Some(date) => format!("`baseline` is planned for {date}, when the products are already on"),
        None => String::from("`baseline` counts from the coats, so it is read when the products are on"),
    };
    let mut finding = Finding::error(CHECK.page.code, round.name.span, message).help(format!(
        "read it before the first coat, as `baseline  {}`, or give the round another name",
        when::baseline_words(study)
    ));
    if let Some(on) = on {
        finding = finding.related(on.span, "the products go on");
    }
    findings.push(finding.about("baseline").about("rounds"));
}

/// On the day of apply itself the order of the day is not known, unless the round counts from a coat.
fn is_late(round: &Round, on: Option<Date>) -> bool {
    let coats = |anchor| matches!(anchor, Anchor::FirstCoat | Anchor::LastCoat);
    match round.placing {
        Placing::After(_, anchor) | Placing::At(anchor) if coats(anchor) => true,
        _ => round.date().zip(on).is_some_and(|(date, on)| date > on),
    }
}

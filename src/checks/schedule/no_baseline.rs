//! No reading before the products go on.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{MeasureId, Reference, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-baseline",
        severity: Severity::Warning,
        what: "No round before apply reads a measure whose change counts from the baseline, or no round lies \
               before apply at all.",
        why: "Without a baseline nobody knows how unlike the sections were before anything went on, and a \
              difference between two products may be a difference between two places of the panel.",
        mend: "Add `baseline  after wipe` to the rounds and let it read the measure.",
        bad: "rounds\n    fresh       8 days after apply  within 1 day\n    month 3     within 3 days\n    \
              every round gloss-20 5 times\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.rounds_broken || study.rounds.is_empty() {
        return;
    }
    let before: Vec<_> = study.rounds.iter().map(|round| when::before_apply(study, round)).collect();
    // A round whose side is not known may be the baseline.
    if before.contains(&None) {
        return;
    }
    let place = study.rounds_span.unwrap_or_default();
    let counted = study
        .judged_measures()
        .filter(|(id, measure)| measure.change_from == Reference::Baseline && lacks(study, *id))
        .map(|(_, measure)| format!("`{}`", measure.name.value));
    let lacking: Vec<String> = counted.filter(|_| before.contains(&Some(true))).collect();
    let message = if before.contains(&Some(true)) {
        if lacking.is_empty() {
            return;
        }
        format!("no round before apply reads {}, whose change counts from the baseline", list(&lacking, "or"))
    } else {
        String::from("no round lies before apply, so nobody knows how the sections differed at the start")
    };
    let words = when::baseline_words(study);
    let help = match study.round_named("baseline") {
        Some(_) if before.contains(&Some(true)) => String::from("let the line of `baseline` read it too"),
        Some(_) => format!("write `baseline  {words}`"),
        None => format!("add `baseline  {words}` and let it read what the other rounds read"),
    };
    let finding = Finding::warning(CHECK.page.code, place, message).help(help);
    let finding = finding.about("rounds").about("baseline");
    findings.push(lacking.iter().fold(finding, |finding, name| finding.about(name.trim_matches('`'))));
}

/// True for a measure that is read after apply and never before.
fn lacks(study: &Study, measure: MeasureId) -> bool {
    let reads = |side: bool| {
        study.rounds_with_ids().any(|(id, round)| {
            when::before_apply(study, round) == Some(side) && study.planned_readings(id, measure) > 0
        })
    };
    reads(false) && !reads(true)
}

//! Cells with one or two readings, in which a bad one cannot be caught.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{MeasureId, Round, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "too-few-readings",
        severity: Severity::Advice,
        what: "A section gets one or two readings of a measure in a round.",
        why: "A single reading that was taken with grit under the gauge looks like any other. Of two that \
              disagree nobody knows which one is off. From three on the odd one shows.",
        mend: "Take three readings or more on each section: `gloss-20 5 times`. Ratings by eye, and readings that \
               harm the spot, are a reason for a waiver.",
        bad: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
              month 3     within 3 days\n    every round gloss-20 once\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 3 times\n",
        source: "Grubbs (1969), Technometrics 11, 1-21: the test needs three values or more",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, measure) in study.judged_measures() {
        // A measure without a gauge is judged by eye, and repeating that on one section adds little.
        if measure.broken || study.gauges_of(id).next().is_none() {
            continue;
        }
        for (times, consequence) in
            [(1, "a bad reading cannot be seen"), (2, "of two that disagree, nobody knows which is off")]
        {
            findings.extend(few(study, id, times, consequence));
        }
    }
}

fn few(study: &Study, id: MeasureId, times: u32, consequence: &str) -> Option<Finding> {
    let rounds: Vec<(&Round, crate::text::Span)> = study
        .rounds
        .iter()
        .filter_map(|round| {
            let plan = round.reads.iter().filter(|plan| plan.measure.value == id);
            let plan = plan.max_by_key(|plan| plan.times).filter(|plan| plan.times == times)?;
            Some((round, plan.measure.span))
        })
        .collect();
    let &(_, place) = rounds.first()?;
    let measure = &study.measure(id).name.value;
    let names: Vec<String> = rounds.iter().map(|(round, _)| format!("`{}`", round.name.value)).collect();
    let readings = if times == 1 { "one reading" } else { "two readings" };
    let message =
        format!("{readings} of `{measure}` on each section at {}: {consequence}", list(&names, "and"));
    let finding = Finding::advice(CHECK.page.code, place, message)
        .help(format!("write `{measure} 3 times` or more"))
        .about(measure);
    Some(rounds.iter().fold(finding, |finding, (round, _)| finding.about(&round.name.value)))
}

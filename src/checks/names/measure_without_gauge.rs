//! Measures that are read with a gauge that the study does not name.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{MeasureId, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "measure-without-gauge",
        severity: Severity::Warning,
        what: "A round reads a measure, and no gauge says that it reads it.",
        why: "How well the gauge repeats, how large its foot is and whether it is in certificate are not known, so that a difference cannot be told from the gauge.",
        mend: "Add a `gauge` block with `reads` and the measure.",
        bad: "measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        good: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.gauges.iter().any(|gauge| gauge.broken) {
        return;
    }
    for (id, measure) in study.judged_measures() {
        // A measure in words of one's own, such as a rating, may need no gauge.
        let by_eye = measure.unit.known.is_none() || measure.broken;
        if by_eye || !is_read(study, id) || study.gauges_of(id).next().is_some() {
            continue;
        }
        let name = &measure.name.value;
        findings.push(
            Finding::warning(CHECK.page.code, measure.name.span, format!("no gauge reads `{name}`"))
                .help(format!("add a `gauge` block with the line `reads {name}`"))
                .about(name),
        );
    }
}

fn is_read(study: &Study, measure: MeasureId) -> bool {
    study.rounds.iter().flat_map(|round| &round.reads).any(|plan| plan.measure.value == measure)
}

//! A change that counts from the fresh coat, of what the coat itself changes.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Direction, Measure, MeasureKind, Reference};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "change-misses-the-coat",
        severity: Severity::Warning,
        what: "A study writes `change from fresh` for what the coat itself changes: uptake of water and whatever else is made of two \
               readings taken anew in each round, or the angle of a drop.",
        why: "What the coat does is done when it is fresh. A change from there leaves that out and shows only what was lost since, so \
              that a product which still keeps most of the water out is reported as worse than bare, which had nothing to lose.",
        mend: "Take the line out, so that the change counts from the baseline, or write `change from baseline`. Where the loss \
               since the fresh coat is what you ask for, keep it, and say so in a waiver.",
        bad: "measure uptake in %\n    lower is better\n    read dry, then soaked in g\n    is the gain in percent\n    \
              change from fresh\nrounds\n    baseline    after wipe  uptake once\n    fresh       8 days after apply  within 1 day  \
              uptake once\n    month 3     within 3 days  uptake once\n    every round gloss-20 5 times\n",
        good: "measure uptake in %\n    lower is better\n    read dry, then soaked in g\n    is the gain in percent\n\
               rounds\n    baseline    after wipe  uptake once\n    fresh       8 days after apply  within 1 day  \
               uptake once\n    month 3     within 3 days  uptake once\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let round = |name| study.round_named(name).filter(|_| !study.rounds_broken);
    let (Some(baseline), Some(fresh)) = (round("baseline"), round("fresh")) else { return };
    for (id, measure) in study.judged_measures().filter(|(_, measure)| !measure.broken) {
        let stated = measure.change_stated && measure.change_from == Reference::Fresh;
        let read = [baseline, fresh].into_iter().all(|round| study.planned_readings(round, id) > 0);
        if stated && read && measure.direction != Direction::Neither && changed_by_coat(context, measure) {
            let name = &measure.name.value;
            let message =
                format!("the change of `{name}` leaves out what a coat does to it by the round `fresh`");
            findings.push(
                Finding::new(CHECK.page.code, CHECK.page.severity, measure.name.span, message)
                    .about(name)
                    .help("take `change from fresh` out: it then counts from the baseline"),
            );
        }
    }
}

/// Whether the coat itself changes what is read: each round tests it anew, or the trade counts it from before the coat.
fn changed_by_coat(context: &Context<'_>, measure: &Measure) -> bool {
    match &measure.kind {
        MeasureKind::Made(made) => made.is_tested_anew() && !made.is_effect(),
        MeasureKind::Read => {
            let known = context.catalog.measure(&measure.name.value);
            known.is_some_and(|known| known.reference == Reference::Baseline)
        }
        MeasureKind::Rating(_) | MeasureKind::Part(_) => false,
    }
}

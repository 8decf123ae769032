//! A difference of two readings that is below zero on every section: the order of the two is likely the wrong one.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::Readings;
use crate::study::{Made, Making, MeasureKind, RoundId, SectionId};

/// Fewer may well all be below zero by chance.
const FEWEST: usize = 4;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "difference-below-zero",
        severity: Severity::Warning,
        what: "A measure is a difference of two readings or a gain, and it is below zero on every section at every round. \
               It is looked at from four sections and rounds on.",
        why: "What is read first and second was likely named the other way round, and then better stands as worse.",
        mend: "Where the second reading is the larger one by its nature, as the weight of soaked wood, write `is the gain` for \
               `is the difference`, or the other way round; or name what is read in the other order.",
        bad: "measure uptake in g\n    lower is better\n    read dry, then soaked in g\n    is the difference\n\
              rounds\n    baseline after wipe\n    month 3 within 3 days\n    every round gloss-20 5 times, uptake once\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
              2026-03-02,baseline,A1,dry,210\n2026-03-02,baseline,A1,soaked,216\n\
              2026-03-02,baseline,A2,dry,205\n2026-03-02,baseline,A2,soaked,213\n\
              2026-03-02,baseline,A3,dry,208\n2026-03-02,baseline,A3,soaked,215\n\
              2026-03-02,baseline,A4,dry,211\n2026-03-02,baseline,A4,soaked,220\n",
        good: "measure uptake in g\n    lower is better\n    read dry, then soaked in g\n    is the gain\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    for (id, measure) in study.measures_with_ids().filter(|(_, measure)| !measure.broken) {
        let MeasureKind::Made(made) = &measure.kind else { continue };
        let instead = match made.making {
            Making::Difference => "is the gain",
            Making::Gain => "is the difference",
            _ => continue,
        };
        let rounds = || study.rounds_with_ids().map(|(round, _)| round);
        let sections = study.places_of(id).map(|(section, _)| section);
        let values: Vec<f64> = sections
            .flat_map(|section| rounds().filter_map(move |round| value(readings, made, (section, round))))
            .collect();
        if values.len() < FEWEST || values.iter().any(|&value| value >= 0.0) {
            continue;
        }
        let name = &measure.name.value;
        let [first, second] = made.parts.as_slice() else { continue };
        let (first, second) = (&study.measure(*first).name.value, &study.measure(*second).name.value);
        let of = if made.making == Making::Gain { (second, first) } else { (first, second) };
        let message = format!(
            "`{name}`, `{}` less `{}`, is below zero wherever both were read, {} times",
            of.0,
            of.1,
            values.len()
        );
        findings.push(
            Finding::warning(CHECK.page.code, measure.name.span, message)
                .help(format!("if it is meant the other way round, write `{instead}`"))
                .about(name),
        );
    }
}

/// What one section gives at a round.
fn value(readings: &Readings, made: &Made, (section, round): (SectionId, RoundId)) -> Option<f64> {
    let &[first, second] = made.parts.as_slice() else { return None };
    let mean = |part| readings.cell(section, round, part)?.kept.mean();
    let difference = mean(first)? - mean(second)?;
    Some(if made.making == Making::Gain { -difference } else { difference })
}

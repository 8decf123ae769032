//! A row that gives the value of a measure that the tool makes of others.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::MeasureKind;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "made-measure-read",
        severity: Severity::Error,
        what: "Readings are given for a measure that is made of others.",
        why: "The number would stand beside one that the tool makes of the parts, and nobody could tell which one is \
              compared.",
        mend: "Give what was read, part by part. If the gauge shows the result itself, define the measure without \
               `read`, so that it is one number a reading.",
        bad: "gauge lamp\n    reads haze\nmeasure haze in %\n    lower is better\n    \
              read open, then under in mW/cm2\n    is the share stopped\n\
              rounds\n    baseline after wipe\n    month 3 within 3 days\n    every round gloss-20 5 times, haze once\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
              2026-03-02,baseline,A1,haze,12\n",
        good: "measure haze in %\n    lower is better\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, measure) in study.measures_with_ids() {
        let MeasureKind::Made(made) = &measure.kind else { continue };
        let mut cells = context.readings.cells().iter().filter(|cell| cell.measure == id);
        let first = cells.next().and_then(|cell| context.readings.of(cell).next());
        let Some(first) = first else { continue };
        let parts: Vec<String> =
            made.parts.iter().map(|&part| format!("`{}`", study.measure(part).name.value)).collect();
        let name = &measure.name.value;
        let message = format!("`{name}` is made of {}, so no row can give it", list(&parts, "and"));
        findings.push(
            Finding::error(CHECK.page.code, first.place, message)
                .help("give what was read, one row for each part")
                .about(name),
        );
    }
}

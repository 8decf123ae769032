//! A map without a bare section.

use super::sections::understood;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Treatment;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-bare-section",
        severity: Severity::Warning,
        what: "No section stays bare.",
        why: "The panel itself changes outdoors. Without bare sections beside the products, its change is taken for theirs.",
        mend: "Write `bare` in some places of the map: prepared like the others, and left.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bay    cumin  |
    | clove  cumin  bay    clove  |
    | cumin  bay    cumin  clove  |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if !understood(study) || study.sections_of(Treatment::Bare).next().is_some() {
        return;
    }
    let grid = study.grid().map(|grid| grid.span);
    let span = grid.or(study.sections.first().map(|section| section.span)).unwrap_or_default();
    findings.push(
        Finding::warning(CHECK.page.code, span, "no section of the map stays bare")
            .help("write `bare` in some places, one in each region of the panel")
            .about("map"),
    );
}

//! Sections that lie over each other.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::layout::{near_pairs, overlap};
use crate::study::{Outline, Section};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "sections-overlap",
        severity: Severity::Error,
        what: "Two sections cover the same spot of the panel.",
        why: "Two products would lie over each other there, and no reading could be given to either.",
        mend: "Move one of the sections, or make it smaller.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
    section E1 of bare  from left 700 mm, top 100 mm  size 150 x 100 mm
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
    section E1 of bare  from left 40 mm, top 446 mm  size 150 x 100 mm
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let sections = &context.study.sections;
    let outlines: Vec<Option<&Outline>> = sections.iter().map(|section| section.outline.as_ref()).collect();
    let mut told = vec![false; sections.len()];
    for (earlier, later) in near_pairs(&outlines, 0.0) {
        let shared = shared(&sections[earlier], &sections[later]);
        if shared > 0.0 && !told[later] {
            told[later] = true;
            findings.push(finding(&sections[earlier], &sections[later], shared));
        }
    }
}

fn shared(a: &Section, b: &Section) -> f64 {
    a.outline.as_ref().zip(b.outline.as_ref()).map_or(0.0, |(a, b)| overlap(a, b))
}

fn finding(earlier: &Section, later: &Section, shared: f64) -> Finding {
    let message = format!("section `{}` lies over section `{}`", later.code, earlier.code);
    Finding::error(CHECK.page.code, later.span, message)
        .label(format!("{} mm2 are in both", decimal(shared.round().max(1.0))))
        .related(earlier.span, format!("`{}` is here", earlier.code))
        .help(format!("move `{}` or make it smaller", later.code))
        .about(&later.code)
        .about(&earlier.code)
        .about("map")
}

//! A section that is called what a file of readings calls something else.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "section-named-as-reading",
        severity: Severity::Warning,
        what: "A section or specimen is called `tile` or `panel`, which a file of readings writes in the place of a section.",
        why: "`tile` stands there for the reference tile of the gauge, and `panel` for the whole panel at a step of preparation. Their rows would be taken for readings of the section, and change its mean.",
        mend: "Give the section another name, on the map and in the readings.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  .      |
    section tile of bare  from right 118 mm, bottom 152 mm  size 166 x 116 mm
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  .      |
    section corner of bare  from right 118 mm, bottom 152 mm  size 166 x 116 mm
",
        source: "a rule of the study language",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (_, section) in context.study.places() {
        let stands_for = match section.code.to_lowercase().as_str() {
            "tile" => "the reference tile of a gauge",
            "panel" => "the whole panel at a step of preparation",
            _ => continue,
        };
        let message = format!("a section is called `{}`, which in readings is {stands_for}", section.code);
        findings.push(
            Finding::warning(CHECK.page.code, section.span, message)
                .help("give it another name, here and in the readings")
                .about(&section.code)
                .about("map"),
        );
    }
}

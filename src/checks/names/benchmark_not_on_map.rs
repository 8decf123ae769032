//! A benchmark that no section carries.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Treatment;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "benchmark-not-on-map",
        severity: Severity::Warning,
        what: "The product to beat stands nowhere on the map.",
        why: "Nothing can be compared with it.",
        mend: "Write its name in some places of the map, or take the line `benchmark` out.",
        bad: "benchmark cumin
map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   .      |
    | bare   .      bay    clove  |
    | clove  bay    .      bare   |
",
        good: "benchmark cumin
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(benchmark) = study.benchmark else { return };
    let is_it = |treatment: Treatment| treatment == Treatment::Product(benchmark) || !treatment.is_settled();
    let found = study.sections.iter().any(|section| is_it(section.treatment));
    if found || study.map_broken || study.sections.is_empty() {
        return;
    }
    let name = &study.product(benchmark).name;
    let message = format!("the benchmark `{}` stands nowhere on the map", name.value);
    findings.push(
        Finding::warning(CHECK.page.code, name.span, message)
            .help(format!(
                "write `{}` in some places of the map, or take the line `benchmark` out",
                name.value
            ))
            .about(&name.value),
    );
}

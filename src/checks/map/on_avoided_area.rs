//! Sections on areas that the study says to avoid.

use super::sections::{about, codes, touching};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Area;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "on-avoided-area",
        severity: Severity::Error,
        what: "A section lies on an area that the panel says to avoid.",
        why: "A recess, a repair or a chip changes what the product meets and what the gauge reads, for one product only.",
        mend: "Leave the place empty with a point in the drawing, or move the map.",
        bad: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 130 um
    avoid       handle  from left 100 mm, top 60 mm  size 60 x 40 mm  because \"recess\"
",
        good: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 130 um
    avoid       handle  from left 820 mm, top 60 mm  size 60 x 40 mm  because \"recess\"
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    findings.extend(context.study.surface.avoid.iter().filter_map(|area| finding(context, area)));
}

fn finding(context: &Context<'_>, area: &Area) -> Option<Finding> {
    let sections = touching(context.study, area);
    let first = sections.first()?;
    let lies = if sections.len() == 1 { "lies" } else { "lie" };
    let message = format!("{} {lies} on the avoided area `{}`", codes(&sections), area.name.value);
    let why = area.because.as_ref().map_or_else(String::new, |because| format!(": {because}"));
    let finding = Finding::error(CHECK.page.code, first.span, message)
        .related(area.span, format!("`{}` is here{why}", area.name.value))
        .help("put `.` in the place of a section that cannot stay, or move the map");
    Some(about(finding, &sections).about(&area.name.value))
}

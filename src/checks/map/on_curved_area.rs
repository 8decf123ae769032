//! Sections on areas where a gauge rocks.

use super::sections::{about, codes, touching};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Area;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "on-curved-area",
        severity: Severity::Warning,
        what: "A section lies on a curved area.",
        why: "A gauge rocks on a curve and reads low there, so that the section loses for its place and not for its product.",
        mend: "Leave the place empty with a point in the drawing, or move the map.",
        bad: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 130 um
    curved      swage  from left 0 mm, top 300 mm  size 880 x 20 mm  because \"pressed line\"
",
        good: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 130 um
    curved      swage  from left 0 mm, top 560 mm  size 880 x 20 mm  because \"pressed line\"
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    findings.extend(context.study.surface.curved.iter().filter_map(|area| finding(context, area)));
}

fn finding(context: &Context<'_>, area: &Area) -> Option<Finding> {
    let sections = touching(context.study, area);
    let first = sections.first()?;
    let lies = if sections.len() == 1 { "lies" } else { "lie" };
    let message = format!("{} {lies} on the curved area `{}`", codes(&sections), area.name.value);
    let why = area.because.as_ref().map_or_else(String::new, |because| format!(": {because}"));
    let finding = Finding::warning(CHECK.page.code, first.span, message)
        .related(area.span, format!("`{}` is here{why}", area.name.value))
        .help("put `.` in the place of a section that cannot stay, or move the map");
    Some(about(finding, &sections).about(&area.name.value))
}

//! Sections that reach past the edge of the panel.

use super::sections::{about, codes, mm};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::layout::contains;
use crate::study::{Outline, Section, Surface};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "off-the-surface",
        severity: Severity::Error,
        what: "A section does not lie wholly on the panel.",
        why: "It cannot be taped or coated as drawn, and its readings would come from a smaller area.",
        mend: "Make sections or gap smaller, begin nearer to the corner, or check the size of the panel.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 240 mm, top 40 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
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
    let surface = &context.study.surface;
    let Some(panel) = surface.outline.as_ref().filter(|_| !surface.broken) else { return };
    let study = context.study;
    let off = |section: &&Section| {
        let outside = section.outline.as_ref().is_some_and(|outline| !contains(&panel.value, outline));
        outside && !study.is_one_too_many(section)
    };
    let off: Vec<&Section> = study.sections.iter().filter(off).collect();
    // The drawing is one statement, so what its size or corner does wrong is one finding.
    let (drawn, named): (Vec<&Section>, Vec<&Section>) =
        off.into_iter().partition(|section| section.row.is_some());
    if !drawn.is_empty() {
        findings.push(finding(surface, &panel.value, &drawn));
    }
    findings.extend(named.into_iter().map(|section| finding(surface, &panel.value, &[section])));
}

fn finding(surface: &Surface, panel: &Outline, sections: &[&Section]) -> Finding {
    let reaches = if sections.len() == 1 { "reaches" } else { "reach" };
    let name = &surface.name.value;
    let message = match past_the_edge(panel, sections) {
        past if past > 0.0 => format!("{} {reaches} {} past the edge of `{name}`", codes(sections), mm(past)),
        _ => format!("{} {reaches} off `{name}`", codes(sections)),
    };
    let help = match sections[0].row {
        Some(_) => "make sections or gap smaller, or begin nearer to the top left corner",
        None => "move the section, or make it smaller",
    };
    let finding = Finding::error(CHECK.page.code, sections[0].span, message).help(help);
    let finding = match surface.outline.as_ref() {
        Some(outline) => finding.related(outline.span, "the panel ends here"),
        None => finding,
    };
    about(finding, sections)
}

/// The farthest that a section reaches past the bounds of the panel, mm; 0 where only a cut-out is touched.
fn past_the_edge(panel: &Outline, sections: &[&Section]) -> f64 {
    let (left, top, right, bottom) = panel.bounds();
    let outlines = sections.iter().filter_map(|section| section.outline.as_ref());
    let past = outlines.map(|outline| {
        let (l, t, r, b) = outline.bounds();
        [left - l, top - t, r - right, b - bottom].into_iter().fold(0.0, f64::max)
    });
    past.fold(0.0, f64::max)
}

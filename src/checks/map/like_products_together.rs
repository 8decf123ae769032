//! Products whose sections all lie side by side.

use super::sections::{by_product, drawn, hang_together, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::Section;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "like-products-together",
        severity: Severity::Warning,
        what: "All sections of a product lie side by side in the drawn map.",
        why: "Film, sun and dirt differ over a panel. Where a product holds one corner, nobody can tell the corner from the product.",
        mend: "Part the sections of each product: another row and another place in the row for each.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bay    bare   cumin  clove  |
    | bay    cumin  clove  bare   |
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
    if !understood(study) {
        return;
    }
    let mut together = by_product(study);
    together.retain(|(_, sections)| is_together(sections));
    if let Some((first, sections)) = together.first() {
        let products: Vec<&str> =
            together.iter().map(|&(product, _)| study.treatment_name(product)).collect();
        findings.push(finding(study.treatment_name(*first), sections, &products));
    }
}

fn is_together(sections: &[&Section]) -> bool {
    sections.len() > 1 && drawn(sections).is_some_and(|places| hang_together(&places))
}

/// A map that groups its products by habit is one fault, however many products it holds.
fn finding(first: &str, sections: &[&Section], products: &[&str]) -> Finding {
    let names: Vec<String> = products.iter().map(|name| format!("`{name}`")).collect();
    let each = if names.len() == 1 { "" } else { ", each" };
    let message = format!("the sections of {} lie side by side{each}", list(&names, "and"));
    let finding = Finding::warning(CHECK.page.code, sections[0].span, message)
        .label("position and product cannot be told apart")
        .help("give each section of a product another row and another place in the row")
        .about("map");
    let others = sections.iter().skip(1);
    let finding =
        others.fold(finding, |finding, section| finding.related(section.span, format!("`{first}` again")));
    if products.len() == 1 { finding.about(first) } else { finding }
}

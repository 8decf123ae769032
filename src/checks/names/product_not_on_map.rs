//! Products that no section carries.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "product-not-on-map",
        severity: Severity::Warning,
        what: "A product is defined and stands nowhere on the map.",
        why: "It was bought and is not compared; or a section carries another product in its place.",
        mend: "Write its name in the map, or take the product out.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   .      |
    | bare   .      bay    clove  |
    | clove  bay    .      bare   |
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
    if study.sections.is_empty() || !is_understood(study) {
        return;
    }
    let mut placed = vec![false; study.products.len()];
    for section in &study.sections {
        if let Treatment::Product(id) = section.treatment {
            placed[id.index()] = true;
        }
    }
    for (id, product) in study.products_with_ids() {
        // A benchmark that is missing has a check of its own.
        if placed[id.index()] || study.benchmark == Some(id) {
            continue;
        }
        let name = &product.name.value;
        findings.push(
            Finding::warning(
                CHECK.page.code,
                product.name.span,
                format!("`{name}` stands nowhere on the map"),
            )
            .help(format!("write `{name}` in the map, or take the product out"))
            .about(name),
        );
    }
}

/// A name on the map that could not be bound, and a section that is left to chance, may be any of the products.
fn is_understood(study: &Study) -> bool {
    !study.map_broken && study.sections.iter().all(|section| section.treatment.is_settled())
}

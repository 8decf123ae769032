//! Studies in which every product has one section.

use super::sections::{by_product, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-replicates",
        severity: Severity::Advice,
        what: "Every product has one section only.",
        why: "A section differs from its neighbour even under the same product. With one section each, that scatter is known from the bare sections alone and is taken to be the same under the products.",
        mend: "Give each product two sections or more, or accept that only large differences show; the report says so.",
        bad: "map  sections 170 x 120 mm  gap 14 mm  from left 40 mm, top 40 mm
    | ash    bare   .      cedar  |
    | bare   birch  .      .      |
    | .      bare   .      bare   |
",
        good: "map  sections 170 x 120 mm  gap 14 mm  from left 40 mm, top 40 mm
    | ash    birch  bare   cedar  |
    | bare   cedar  ash    birch  |
    | birch  ash    cedar  bare   |
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let products = by_product(study);
    let single = products.iter().all(|(_, sections)| sections.len() == 1);
    let Some(first) = study.sections.first().filter(|_| single && products.len() > 1) else { return };
    if !understood(study) {
        return;
    }
    let span = study.grid.as_ref().map_or(first.span, |grid| grid.span);
    let message = format!("each of the {} products has one section only", products.len());
    findings.push(
        Finding::advice(CHECK.page.code, span, message)
            .help("give products a second section where the panel has room for it")
            .about("map"),
    );
}

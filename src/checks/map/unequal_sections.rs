//! Products with far more sections than others.

use super::sections::{by_product, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::study::{Section, Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "unequal-sections",
        severity: Severity::Advice,
        what: "One product has at least twice as many sections as another, and at least two more. A benchmark may have more.",
        why: "A product with fewer sections is known less well, so that it is harder for it to lead or to fail.",
        mend: "Give each product as many sections as the others.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   bay    |
    | bare   cumin  bay    clove  |
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
    if !understood(study) {
        return;
    }
    let benchmark = study.benchmark.map(Treatment::Product);
    let mut products = by_product(study);
    products.retain(|&(product, _)| Some(product) != benchmark);
    // The first of equals is named on both sides.
    let most = products.iter().rev().max_by_key(|(_, sections)| sections.len());
    let least = products.iter().min_by_key(|(_, sections)| sections.len());
    if let Some((most, least)) = most.zip(least) {
        findings.extend(finding(study, most, least));
    }
}

type Product<'a> = (Treatment, Vec<&'a Section>);

fn finding(study: &Study, most: &Product<'_>, least: &Product<'_>) -> Option<Finding> {
    let (high, low) = (most.1.len(), least.1.len());
    if high < 2 * low || high < low + 2 {
        return None;
    }
    let (most, few) = (study.treatment_name(most.0), study.treatment_name(least.0));
    let message = format!("`{few}` has {}, `{most}` has {high}", count(low, "section"));
    let finding = Finding::advice(CHECK.page.code, least.1.first()?.span, message)
        .help("give each product as many sections as the others");
    Some(finding.about(few).about(most).about("map"))
}

//! Too few bare sections to carry the comparison.

use super::sections::{by_product, of, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::planning::Room;
use crate::study::Treatment;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "few-bare-sections",
        severity: Severity::Warning,
        what: "Fewer than four sections stay bare where products have one section each, or only one where they have several. Where the layout has fewer than three degrees of freedom, that graver fault is told alone.",
        why: "With one section a product, the bare sections alone show how much sections treated alike differ. From two or three of them that is hardly known, and almost nothing can be told apart.",
        mend: "Leave four to six sections bare, spread over the panel, or give products a second section.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | cumin  bay    clove  .      |
    | clove  cumin  bay    .      |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | cumin  bay    clove  bare   |
    | clove  cumin  bay    bare   |
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let products = by_product(study);
    let bare = of(study, Treatment::Bare);
    let single = products.iter().all(|(_, sections)| sections.len() == 1);
    let enough = if single { 4 } else { 2 };
    let Some(first) = bare.first().filter(|_| bare.len() < enough && !products.is_empty()) else { return };
    // Without scatter to judge by, more bare sections are asked for as part of that.
    if !understood(study) || Room::on_panel(study).is_some_and(|room| room.df < 3) {
        return;
    }
    let stays = if bare.len() == 1 { "stays" } else { "stay" };
    let each = if single { "products have one section each" } else { "each product is compared with it" };
    let message = format!("only {} {stays} bare, and {each}", count(bare.len(), "section"));
    let help = if single {
        "leave four to six sections bare, or give products a second section"
    } else {
        "leave at least as many sections bare as each product has"
    };
    let rest = bare.iter().skip(1);
    let finding =
        Finding::warning(CHECK.page.code, first.span, message).help(help).about("map").about("bare");
    findings.push(rest.fold(finding, |finding, section| finding.related(section.span, "bare")));
}

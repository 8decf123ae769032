//! Sections of the map that chance has not dealt out yet.

use super::sections::codes;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::study::{Section, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "left-to-chance",
        severity: Severity::Error,
        what: "The map leaves sections to chance, and they have not been dealt out yet.",
        why: "Nobody knows what goes on them. Papers for the preparation can be printed; what comes after it, and the report, cannot.",
        mend: "`tapeline arrange FILE` deals products and bare out among them and shows the layout; with `--write` it puts it into the study. Where the map has `blocks by ...`, read that first.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | ?      ?      ?      ?      |
    | ?      ?      ?      ?      |
    | ?      ?      ?      ?      |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
    placed 2026-03-03, seed 7
",
        source: "a rule of the study language",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let open: Vec<&Section> = study.sections_of(Treatment::Open).map(|(_, section)| section).collect();
    // Blocks that do not fit are a finding of their own, and come first.
    let Some(first) = open.first().filter(|_| study.blocks_fit()) else { return };
    let verb = if open.len() == 1 { "is" } else { "are" };
    let message = format!(
        "{} {verb} left to chance and not dealt out yet: {}",
        count(open.len(), "section"),
        codes(&open)
    );
    findings.push(
        Finding::error(CHECK.page.code, first.span, message)
            .help("`tapeline arrange FILE` deals products and bare out among them")
            .about("map")
            .binding(),
    );
}

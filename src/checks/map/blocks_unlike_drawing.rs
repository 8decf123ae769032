//! Blocks that do not hold the sections that are left to chance.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::study::Treatment;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "blocks-unlike-drawing",
        severity: Severity::Error,
        what: "The blocks hold more or fewer sections than the map leaves to chance.",
        why: "Each block gets every product. A block that is cut short would have some products and not others.",
        mend: "Make the blocks hold what is drawn as `?`: 4 blocks of 9 sections are 36.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | ?      ?      ?      ?      |
    | ?      ?      ?      ?      |
    | ?      ?      ?      ?      |
    blocks by gloss-20 at baseline, 4 of 4
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
    blocks by gloss-20 at baseline, 3 of 4
    placed 2026-03-03, seed 7
",
        source: "a rule of the study language",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(blocks) = study.dealing.blocks else { return };
    if study.map_broken || study.blocks_fit() {
        return;
    }
    let open = study.sections_of(Treatment::Open).count();
    let held = blocks.number * blocks.each;
    let verb = if blocks.number == 1 { "holds" } else { "hold" };
    let message = format!(
        "{} of {} sections {verb} {held}, and the map leaves {open} to chance",
        count(blocks.number, "block"),
        blocks.each
    );
    let help = if open.is_multiple_of(blocks.each) {
        format!("write `{} of {}`, or draw as many `?`", open / blocks.each, blocks.each)
    } else {
        "correct one of the numbers, or draw as many `?`".to_owned()
    };
    findings.push(Finding::error(CHECK.page.code, blocks.span, message).help(help).about("map").binding());
}

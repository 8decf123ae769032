//! Oils, lubricants and fillers that no wipe takes off before the products go on.

use super::missing::has;
use super::steps::{class, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Study, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "residue-before-apply",
        severity: Severity::Warning,
        what: "A step leaves oils, lubricant or fillers on the surface, and no wipe follows it.",
        why: "Residue fills marks and lifts the gloss of the baseline, and products do not bond on it. A product on oil fails for the oil's sake, not for its own.",
        mend: "Wipe after the last step that leaves something, with an agent that leaves nothing itself.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    polish      with smooth-out  tool \"foam pad\"
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // Without any wipe, `no-wipe` speaks.
    if study.prep_broken || !has(study, Verb::Wipe) {
        return;
    }
    let wipe = study.prep.iter().rposition(|step| step.verb == Verb::Wipe && !leaves(context, step));
    // A wash after the wipe is told as a wrong order.
    let washed = |step: &Step| matches!(step.verb, Verb::Wash | Verb::Decontaminate);
    let last = study.prep.iter().rposition(|step| step.verb == Verb::Wipe);
    if study.prep.iter().skip(last.unwrap_or(0)).any(washed) {
        return;
    }
    let after = study.prep.iter().skip(wipe.map_or(0, |at| at + 1));
    let left: Vec<&Step> = after.filter(|step| leaves(context, step)).collect();
    let Some((last, earlier)) = left.split_last() else { return };
    let message = format!("{} leaves a residue, and no wipe follows it", told(study, last));
    let finding = Finding::warning(CHECK.page.code, last.span, message)
        .help("put a `wipe` after it, with an agent that leaves nothing")
        .about("prep");
    let finding = match supply(study, last) {
        Some(supply) => finding.about(&supply.name.value),
        None => finding,
    };
    findings
        .push(earlier.iter().fold(finding, |finding, step| finding.related(step.span, "this one as well")));
}

pub(super) fn leaves(context: &Context<'_>, step: &Step) -> bool {
    let by_itself = context.catalog.step(step.verb.word()).is_some_and(|kind| kind.leaves_residue);
    let by_supply = supply(context.study, step).is_some_and(|supply| {
        supply.leaves_oils || class(supply).is_some_and(|class| class.work.leaves_residue)
    });
    by_itself || by_supply
}

fn told(study: &Study, step: &Step) -> String {
    match supply(study, step) {
        Some(supply) => format!("`{}` with `{}`", step.verb.word(), supply.name.value),
        None => format!("`{}`", step.verb.word()),
    }
}

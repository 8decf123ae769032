//! Clay on paint with no polish after it.

use super::steps::{ground, is_abrasive, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "clay-marks-left",
        severity: Severity::Advice,
        what: "Paint or gelcoat is clayed, and neither compounded nor polished afterwards.",
        why: "Clay leaves faint marks, more on the sections where it dragged. They are in the baseline, and products fill them unequally.",
        mend: "Add a `polish`, or leave the clay out where the surface has to stay as it is.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
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
    let steps = prep(context);
    let glossy = ground(context).is_some_and(|ground| matches!(ground.id, "paint" | "gelcoat"));
    let Some(step) = steps.iter().rfind(|step| step.verb == Verb::Clay).filter(|_| glossy) else { return };
    if steps.iter().any(is_abrasive) {
        return;
    }
    findings.push(
        Finding::advice(CHECK.page.code, step.span, "nothing takes the marks of `clay` out")
            .help("write a `polish` below it, or leave the `clay` out")
            .about("prep"),
    );
}

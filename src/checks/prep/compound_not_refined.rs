//! Compound that no polish refines.

use super::steps::{porous, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "compound-not-refined",
        severity: Severity::Warning,
        what: "Preparation has a `compound` and no `polish` after it.",
        why: "The marks of a compound scatter light: the baseline reads their haze, and a product that fills them looks as if it gave gloss.",
        mend: "Add a `polish` with a finer abrasive after the compound.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  tool \"foam pad\"
    read        film at 5 places, 3 times
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
    let last = steps.iter().rposition(|step| step.verb == Verb::Compound);
    // A polish that stands before the compound is a wrong order and told as that.
    let refined = steps.iter().any(|step| step.verb == Verb::Polish);
    let Some(step) = last.map(|at| &steps[at]).filter(|_| !refined && porous(context).is_none()) else {
        return;
    };
    findings.push(
        Finding::warning(CHECK.page.code, step.span, "the marks of `compound` are not polished out")
            .help("write a `polish` with a finer abrasive and a pad of its own below it")
            .about("prep"),
    );
}

//! Preparation with water and without drying.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-dry",
        severity: Severity::Warning,
        what: "A step of preparation wets the surface and no step dries it.",
        why: "Water changes readings, thins abrasives and lifts tape, and it stays longest in seams beside some sections.",
        mend: "Dry after the last wet step, before the first reading, pad or tape.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    polish      with smooth-out  tool \"foam pad\"
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
    let wets = |verb: Verb| context.catalog.step(verb.word()).is_some_and(|step| step.wets);
    if context.study.prep.iter().any(|step| wets(step.verb)) {
        let help = "write `dry` after the last step with water";
        findings.extend(missing::finding(
            context,
            &CHECK.page,
            Verb::Dry,
            "preparation wets the surface and has no `dry`",
            help,
        ));
    }
}

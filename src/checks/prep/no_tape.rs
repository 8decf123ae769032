//! Preparation without tape.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-tape",
        severity: Severity::Advice,
        what: "Preparation has no `tape`.",
        why: "Products run into their neighbours without a border.",
        mend: "Tape the lines between sections and say how wide, so that the map can be checked for room.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
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
    // A specimen by itself has edges of its own.
    if context.study.is_on_racks() {
        return;
    }
    let help = "write `tape lines 6 mm wide`, or whatever the tape measures";
    findings.extend(missing::finding(context, &CHECK.page, Verb::Tape, "preparation has no `tape`", help));
}

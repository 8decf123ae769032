//! Preparation without labels.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-label",
        severity: Severity::Advice,
        what: "Preparation has no `label`.",
        why: "Sections without a name get mixed up on the day of application or months later.",
        mend: "Label the sections after the wipe; the labels are printed from the map.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
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
    let racks = context.study.is_on_racks();
    let help = if racks {
        "write `label`, and say where: on the back, stamped"
    } else {
        "write `label` after the tape"
    };
    findings.extend(missing::finding(context, &CHECK.page, Verb::Label, "preparation has no `label`", help));
}

//! Preparation without a wash.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-wash",
        severity: Severity::Warning,
        what: "Preparation has no `wash`.",
        why: "Loose dirt shields what comes later and is rubbed into the surface by clay and pads.",
        mend: "Wash first, with the mix of the shampoo, and rinse.",
        bad: "prep
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
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
    let help = "write `wash with` a shampoo and its mix, then `rinse`, as the first step";
    findings.extend(missing::finding(context, &CHECK.page, Verb::Wash, "preparation has no `wash`", help));
}

//! Preparation without a wipe.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-wipe",
        severity: Severity::Warning,
        what: "Preparation has no `wipe`.",
        why: "Oils of pads, lubricants and hands fill marks and lift gloss, and products do not bond on them. A product on oil fails for the oil's sake, not for its own.",
        mend: "Wipe as the last step before tape and labels, with a stated strength and a fresh cloth.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    tape        lines 6 mm wide
    label
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
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
    let help = "write `wipe with` a wiping agent and its strength before tape and labels";
    findings.extend(missing::finding(context, &CHECK.page, Verb::Wipe, "preparation has no `wipe`", help));
}

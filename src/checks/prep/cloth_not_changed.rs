//! A wipe that does not change its cloth.

use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "cloth-not-changed",
        severity: Severity::Advice,
        what: "A wipe does not say that its cloth is a fresh one.",
        why: "A cloth that has been round the panel carries the oil of the first section to the last one.",
        mend: "Write `fresh cloth` in the wipe, and take one for each section.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice,  wait 5 min
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
    for step in prep(context).iter().filter(|step| step.verb == Verb::Wipe) {
        let tool = step.tool.as_deref().unwrap_or_default().to_lowercase();
        if step.fresh_cloth || step.broken || ["fresh", "new", "clean"].iter().any(|word| tool.contains(word))
        {
            continue;
        }
        findings.push(
            Finding::advice(CHECK.page.code, step.span, "`wipe` does not say that its cloth is changed")
                .help("write `fresh cloth` in the `wipe`, one for each section")
                .about("prep"),
        );
    }
}

//! A surface that is still wet when the products go on.

use super::steps::{prep, wets};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "wet-before-apply",
        severity: Severity::Warning,
        what: "The last step that wets the surface is followed by no drying.",
        why: "Water under a product keeps it from bonding, or spots it, most where water gathers.",
        mend: "Put a `dry` after the last wash or rinse.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    rinse
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    rinse
    dry
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps = prep(context);
    let Some(at) = steps.iter().rposition(|step| wets(context, step)) else { return };
    let dries =
        |step: &Step| step.verb == Verb::Dry || step.wait.is_some_and(|wait| wait.seconds() >= HOUR_S);
    // Where nothing dries at all, or tape is laid on the water, another finding says so.
    let told = steps.iter().all(|step| step.verb != Verb::Dry)
        || steps[at + 1..].iter().any(|step| {
            matches!(step.verb, Verb::Tape | Verb::Seal | Verb::Sand | Verb::Compound | Verb::Read)
        });
    if told || steps[at..].iter().any(dries) {
        return;
    }
    let message =
        format!("the surface is still wet from `{}` when the products go on", steps[at].verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, steps[at].span, message).help("write `dry` below it").about("prep"),
    );
}

/// A pause as long as this dries a surface that was not wiped dry, seconds.
const HOUR_S: f64 = 3600.0;

//! Steps that do not say with what they are done.

use crate::catalog::Need;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "step-without-supply",
        severity: Severity::Warning,
        what: "A step of preparation does not say with what it is done.",
        why: "Its mix, dwell and cautions cannot be printed, what it leaves on the surface is not known, and nobody can repeat it.",
        mend: "Define a `supply` and write `with` and its name in the step.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        twice, fresh cloth,  wait 5 min
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
    let needs = |step: &Step| {
        let kind = context.catalog.step(step.verb.word());
        kind.is_some_and(|kind| kind.needs_supply == Need::Always)
    };
    let silent = |step: &&Step| step.with.is_none() && !step.broken;
    for step in context.study.prep.iter().filter(silent).filter(|step| needs(step)) {
        let verb = step.verb.word();
        findings.push(
            Finding::warning(CHECK.page.code, step.span, format!("`{verb}` does not say with what"))
                .help(format!("define a supply, and write `{verb} with` its name"))
                .about("prep"),
        );
    }
}

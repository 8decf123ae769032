//! Compound or polish without the tool.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-tool",
        severity: Severity::Advice,
        what: "A step of compound or polish does not say with which machine and pad.",
        why: "The same polish cuts deeper under a wool pad than under foam. Without the tool, film loss and gloss cannot be repeated.",
        mend: "Say the machine and the pad.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out
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
    let abrasive = |verb| matches!(verb, Verb::Compound | Verb::Polish);
    for step in context.study.prep.iter().filter(|step| abrasive(step.verb) && step.tool.is_none()) {
        let message = format!("`{}` does not say with which tool", step.verb.word());
        findings.push(
            Finding::advice(CHECK.page.code, step.span, message)
                .help("add the machine and the pad, as in `tool \"12 mm throw, sponge pad\"`")
                .about("prep"),
        );
    }
}

//! Tar remover with no wash after it.

use super::steps::{class, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-wash-after-tar-remover",
        severity: Severity::Warning,
        what: "A tar remover is followed by no wash before the next work on the surface.",
        why: "It leaves an oily film that water alone does not take off. Clay, pads and products then work on oil.",
        mend: "Add a `wash` with shampoo after it.",
        bad: "supply tar-lift, a tar remover
    mix         neat
    dwell       1 to 3 min
    sheet       \"tar-lift-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    decontaminate with tar-lift  for 2 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply tar-lift, a tar remover
    mix         neat
    dwell       1 to 3 min
    sheet       \"tar-lift-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    decontaminate with tar-lift  for 2 min,  rinse
    wash        with soap,  1 part to 200 water,  rinse
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
    let steps = prep(context);
    for (at, step) in steps.iter().enumerate() {
        let Some(supply) = supply(context.study, step).filter(|_| step.verb == Verb::Decontaminate) else {
            continue;
        };
        let oily = class(supply).is_some_and(|class| class.work.leaves_residue && class.is_in("hydrocarbon"));
        let passing = |verb| matches!(verb, Verb::Rinse | Verb::Wait | Verb::Dry | Verb::Decontaminate);
        let next = steps[at + 1..].iter().find(|next| !passing(next.verb));
        if !oily || next.is_some_and(|next| next.verb == Verb::Wash) {
            continue;
        }
        let message = format!("no wash takes the oily film of `{}` off", supply.name.value);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help("write a `wash` with shampoo, and its `rinse`, after it")
                .about(&supply.name.value)
                .about("prep"),
        );
    }
}

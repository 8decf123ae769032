//! A machine on a surface that is wet with solvent.

use super::steps::{is_flammable, is_machine, sequences, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "machine-after-solvent",
        severity: Severity::Error,
        what: "A solvent is followed by a machine with neither a rinse nor a pause between them.",
        why: "Motors spark and pads heat the surface; the vapour above it can catch fire. This stays an error in spite of a waiver.",
        mend: "Let the solvent flash off and take its cloths away: `wait 10 min`, or rinse.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    wipe        with spirit 35 % by volume  fresh cloth
    polish      with smooth-out  tool \"12 mm throw, foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    wipe        with spirit 35 % by volume  fresh cloth,  wait 10 min
    polish      with smooth-out  tool \"12 mm throw, foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "OSHA 29 CFR 1910.106(e)(6)(i), sources of ignition",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for sequence in sequences(context.study) {
        let pairs = sequence.steps.iter().zip(sequence.steps.iter().skip(1));
        for (step, next) in pairs {
            let solvent = supply(context.study, step).filter(|supply| is_flammable(supply));
            let Some(supply) = solvent.filter(|_| is_machine(next) && !step.rinse && step.wait.is_none())
            else {
                continue;
            };
            let message = format!("a machine runs where `{}` is still wet", supply.name.value);
            findings.push(
                Finding::error(CHECK.page.code, next.span, message)
                    .label("motors spark, and its vapour burns")
                    .related(step.span, "the solvent is put on here")
                    .help(format!(
                        "write `wait 10 min`, or a `rinse`, at the end of the `{}`",
                        step.verb.word()
                    ))
                    .about(&supply.name.value)
                    .about(sequence.place)
                    .binding(),
            );
        }
    }
}

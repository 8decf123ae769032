//! A machine on a surface that is wet with solvent.

use super::steps::{is_flammable, is_machine, sequences, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "machine-after-solvent",
        severity: Severity::Error,
        what: "A solvent is followed by a machine with neither a rinse nor a pause of at least 10 min between them.",
        why: "Motors spark and pads heat the surface; the vapour above it can catch fire. This stays an error in spite of a waiver.",
        mend: "Let the solvent flash off as long as its data sheet says, at least 10 min, and take its cloths away: `wait 10 min`, or rinse.",
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
        source: "OSHA 29 CFR 1910.106(e)(6)(i), sources of ignition; the 10 min: common practice, no source",
    },
    run,
};

/// Below this a solvent counts as wet, seconds: common practice, no source.
const FLASH_OFF_S: f64 = 600.0;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for sequence in sequences(context.study) {
        for (at, step) in sequence.steps.iter().enumerate() {
            let solvent = supply(context.study, step).filter(|supply| is_flammable(supply));
            let Some(supply) = solvent.filter(|_| !step.rinse) else { continue };
            // Pauses that follow count together; any other step ends what lies directly behind the solvent.
            let later = &sequence.steps[at + 1..];
            let pauses = later.iter().take_while(|next| matches!(next.verb, Verb::Wait | Verb::Dry)).count();
            let waits = std::iter::once(step).chain(&later[..pauses]).filter_map(|one| one.wait);
            let waited_s: f64 = waits.map(crate::units::Quantity::seconds).sum();
            let rinsed = later[..pauses].iter().any(|one| one.rinse);
            let machine = later.get(pauses).filter(|next| is_machine(next));
            let Some(next) = machine.filter(|_| waited_s < FLASH_OFF_S && !rinsed) else { continue };
            let message = format!("a machine runs where `{}` is still wet", supply.name.value);
            findings.push(
                Finding::error(CHECK.page.code, next.span, message)
                    .label("motors spark, and its vapour burns")
                    .related(step.span, "the solvent is put on here")
                    .help(format!(
                        "write the time that its data sheet gives to flash off, at least `wait 10 min`, or a `rinse`, at the end of the `{}`",
                        step.verb.word()
                    ))
                    .about(&supply.name.value)
                    .about(sequence.place)
                    .binding(),
            );
        }
    }
}

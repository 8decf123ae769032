//! A wipe with solvent that is given no time to flash off.

use super::steps::{is_flammable, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-flash-off",
        severity: Severity::Warning,
        what: "A wipe with a solvent is followed by no pause.",
        why: "Solvent that is still in the surface or below the tape thins the product that goes on, and its vapour burns.",
        mend: "Write `wait 5 min` at the end of the wipe, or a step `wait` after it.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth
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
    let steps = prep(context);
    for (at, step) in steps.iter().enumerate() {
        let solvent =
            supply(context.study, step).filter(|supply| step.verb == Verb::Wipe && is_flammable(supply));
        let next = steps.get(at + 1).map(|next| next.verb);
        // A second wipe takes the first one up, and a wash or rinse takes it off.
        let goes_on = matches!(next, Some(Verb::Wait | Verb::Wipe | Verb::Wash | Verb::Rinse));
        let Some(supply) = solvent.filter(|_| step.wait.is_none() && !step.broken && !goes_on) else {
            continue;
        };
        let message = format!("`wipe` with `{}` is given no time to flash off", supply.name.value);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help("write `wait 5 min`, or the time of its data sheet, at the end of the `wipe`")
                .about("prep"),
        );
    }
}

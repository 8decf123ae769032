//! Alcohol too weak to lift oils.

use super::residue_before_apply::leaves;
use super::steps::{alcohol, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "alcohol-too-weak",
        severity: Severity::Warning,
        what: "The wipe that has to take polishing oils off is weaker than 10 % alcohol by volume.",
        why: "So much water spreads the oils instead of lifting them; gloss and water behaviour are then those of the oil.",
        mend: "Use 15 to 35 % by volume, or a panel wipe.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 5 % by volume  twice, fresh cloth,  wait 5 min
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

/// Percent by volume below which oils are spread and not lifted.
const LEAST: f64 = 10.0;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps = prep(context);
    let oily = steps.iter().position(|step| leaves(context, step));
    let after = steps.iter().skip(oily.unwrap_or(steps.len())).filter(|step| step.verb == Verb::Wipe);
    for step in after {
        let Some(strength) = alcohol(context, step).filter(|strength| *strength < LEAST) else { continue };
        let strength = decimal((strength * 10.0).round() / 10.0);
        let message = format!("a wipe of {strength} % alcohol by volume does not lift oils");
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help("write 15 to 35 % by volume in the `wipe`, or use a panel wipe")
                .about("prep"),
        );
    }
}

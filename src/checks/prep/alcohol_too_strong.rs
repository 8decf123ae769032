//! Alcohol too strong for the surface.

use super::steps::{alcohol, ground, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "alcohol-too-strong",
        severity: Severity::Warning,
        what: "A wipe is stronger than the surface bears.",
        why: "Strong alcohol swells and dulls paint that is not fully hard, and crazes clear plastics. The baseline then reads the damage.",
        mend: "Thin it: 15 to 35 % by volume is usual; try it on a hidden place first.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit neat  twice, fresh cloth,  wait 5 min
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
    let Some((ground, most)) = ground(context).and_then(|own| Some((own, own.alcohol_max_percent?))) else {
        return;
    };
    for step in prep(context) {
        let Some(strength) = alcohol(context, step).filter(|strength| *strength > most) else { continue };
        let (strength, most) = (decimal((strength * 10.0).round() / 10.0), decimal(most));
        let message =
            format!("{strength} % alcohol by volume is more than the {most} % usual on {}", ground.id);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help(format!(
                    "thin it in the `{}`, as in `35 % by volume`, or try it on a hidden place",
                    step.verb.word()
                ))
                .about("prep"),
        );
    }
}

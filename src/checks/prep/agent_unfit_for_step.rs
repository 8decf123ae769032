//! A supply that does not do what its step is for.

use super::steps::{class, every_step, supply};
use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "agent-unfit-for-step",
        severity: Severity::Warning,
        what: "A step is done with a class of supply that is not used for it, such as clay without a lubricant.",
        why: "Clay on a solvent or on water alone drags and scratches; a remover in place of a soap leaves the dirt; a soap in place of a wipe leaves a film.",
        mend: "Name the supply that the step is for.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with spirit 35 % by volume,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
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
    for (place, step) in every_step(context.study) {
        let Some(known) = context.catalog.step(step.verb.word()) else { continue };
        let Some(supply) = supply(context.study, step) else { continue };
        let Some(class) = class(supply).filter(|class| class.id != "water") else { continue };
        if known.uses.is_empty() || known.uses.contains(&class.id) {
            continue;
        }
        let name = |id: &&&str| {
            context.catalog.classes().iter().find(|class| class.id == **id).map(|class| class.name)
        };
        let usual: Vec<&str> =
            known.uses.iter().take(3).collect::<Vec<_>>().iter().filter_map(name).collect();
        let message = format!(
            "`{}` is not done with {}, which `{}` is",
            step.verb.word(),
            class.name,
            supply.name.value
        );
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help(format!("take {} for the `{}`", list(&usual, "or"), step.verb.word()))
                .about(&supply.name.value)
                .about(place),
        );
    }
}

//! Chemicals that need a dwell and get none.

use super::steps::{class, dwell, every_step, supply, usual_dwell};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Supply};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-dwell",
        severity: Severity::Warning,
        what: "A chemical that needs time to act is used without a stated dwell.",
        why: "Too short and it does nothing, too long and it stains or etches. Left unsaid, nobody can repeat the step.",
        mend: "Add `for` and the time to the step; the data sheet has it.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off,  rinse
    clay        with slick,  rinse
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
    // A time that could not be taken is there, and what is wrong with it is said.
    let without = |step: &Step| step.dwell.is_none() && !step.broken;
    for (place, step) in every_step(context.study).into_iter().filter(|(_, step)| without(step)) {
        if let Some(supply) = supply(context.study, step) {
            findings.extend(finding(supply, step).map(|finding| finding.about(place)));
        }
    }
}

fn finding(supply: &Supply, step: &Step) -> Option<Finding> {
    let class = class(supply).filter(|class| class.work.needs_dwell)?;
    let name = &supply.name.value;
    let message = format!("`{}` with `{name}` does not say how long it acts", step.verb.word());
    let own = supply.dwell.as_ref().map(|own| (own.value.low.seconds(), own.value.high.seconds()));
    let help = match (own, usual_dwell(class)) {
        (Some((from, to)), _) => format!("add `for` and the time; `{name}` allows {}", dwell(from, to)),
        (None, Some((from, to))) => {
            format!(
                "add `for` and the time; {} usual for a class like this, the data sheet decides",
                is(&dwell(from, to))
            )
        }
        (None, None) => String::from("add `for` and the time that the data sheet says"),
    };
    Some(Finding::warning(CHECK.page.code, step.span, message).help(help).about(name))
}

fn is(dwell: &str) -> String {
    let verb = if dwell.contains(" to ") { "are" } else { "is" };
    format!("{dwell} {verb}")
}

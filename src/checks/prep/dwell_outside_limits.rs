//! Dwells shorter or longer than the chemical allows.

use super::steps::{class, dwell, every_step, supply, usual_dwell};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Supply};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "dwell-outside-limits",
        severity: Severity::Warning,
        what: "The dwell of a step lies outside the limits of its supply. Where the supply gives none, the usual time of its class is asked, as advice.",
        why: "Too short and it does nothing; too long and it dries on, stains or etches.",
        mend: "Bring the dwell inside the limits, or correct them from the data sheet.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 8 min,  rinse
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
        source: "from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (place, step) in every_step(context.study) {
        if let Some(supply) = supply(context.study, step) {
            findings
                .extend(finding(supply, step).map(|finding| finding.about(&supply.name.value).about(place)));
        }
    }
}

fn finding(supply: &Supply, step: &Step) -> Option<Finding> {
    let planned = step.dwell.as_ref().filter(|_| !supply.is_unread("dwell"))?;
    let (from, to) = (planned.value.low.seconds(), planned.value.high.seconds());
    let name = &supply.name.value;
    let own = supply.dwell.as_ref().map(|own| (own.value.low.seconds(), own.value.high.seconds()));
    let (low, high) = own.or_else(|| usual_dwell(class(supply)?))?;
    // A time given in another unit may differ in its last bits.
    let beyond = if from < low - 1e-6 {
        "shorter"
    } else if to > high + 1e-6 {
        "longer"
    } else {
        return None;
    };
    let limits = dwell(low, high);
    let allows = if own.is_some() { "allows" } else { "usually gets" };
    let message = format!("a dwell of {} is {beyond} than `{name}` {allows}", planned.value);
    Some(match supply.dwell.as_ref() {
        Some(own) => Finding::warning(CHECK.page.code, planned.span, message)
            .related(own.span, "its limits")
            .help(format!("write `for` and a time of {limits}")),
        None => Finding::advice(CHECK.page.code, planned.span, message).help(format!(
            "{limits} is usual for its class; give `{name}` its own `dwell` from the data sheet"
        )),
    })
}

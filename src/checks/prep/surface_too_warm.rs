//! A panel that may be too warm for what is done on it.

use super::steps::{class, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "surface-too-warm",
        severity: Severity::Warning,
        what: "The panel may be warmer than a supply bears.",
        why: "What must not dry on dries on: spots of soap, stains of iron remover, caked compound. Wipes flash before they lift anything.",
        mend: "Lower the limit, or prepare in the shade early in the day.",
        bad: "prep
    surface below 50 degC
    shade
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    surface below 30 degC
    shade
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
    let study = context.study;
    let Some(limit) = study.prep_surface_below.as_ref() else { return };
    let bears = |step: &Step| {
        Some((supply(study, step)?, supply(study, step).and_then(class)?.work.surface_max_deg_c?))
    };
    let least = prep(context).iter().filter_map(|step| Some((step, bears(step)?)));
    let tightest = least.min_by(|(_, (_, a)), (_, (_, b))| a.total_cmp(b));
    let Some((step, (supply, most))) = tightest.filter(|(_, (_, most))| limit.value.deg_c() > most + 1e-9)
    else {
        return;
    };
    let message = format!(
        "the panel may be as warm as {}, and `{}` is worked below {} degC",
        limit.value,
        supply.name.value,
        decimal(most)
    );
    findings.push(
        Finding::warning(CHECK.page.code, limit.span, message)
            .related(step.span, "it is used here")
            .help(format!("write `surface below {} degC`, or the limit of its data sheet", decimal(most)))
            .about(&supply.name.value)
            .about("prep"),
    );
}

//! Nothing is said of sun and heat while the panel is prepared.

use super::steps::{class, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-surface-limit",
        severity: Severity::Advice,
        what: "A step uses what must not dry on, and the study says neither how warm the panel may be nor that it stands in the shade.",
        why: "On a hot panel a remover dries before its dwell is over and stains; a compound cakes and burns through at edges.",
        mend: "Write `surface below 30 degC` or `shade` under `prep`.",
        bad: "prep
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
    if study.prep_shade || study.prep_surface_below.is_some() {
        return;
    }
    let dries_on = |step: &&Step| {
        let class = supply(study, step).and_then(class);
        class.is_some_and(|class| class.work.must_not_dry_on && class.work.needs_dwell) && !step.broken
    };
    let Some(step) = prep(context).iter().find(dries_on) else { return };
    let message = format!("nothing says how warm the panel may be when `{}` is done", step.verb.word());
    findings.push(
        Finding::advice(CHECK.page.code, step.span, message)
            .help("write `surface below 30 degC`, or `shade`, under `prep`")
            .about("prep"),
    );
}

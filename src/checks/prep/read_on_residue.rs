//! A reading on oil or lubricant.

use super::film::is_depth;
use super::residue_before_apply::leaves;
use super::steps::{class, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-on-residue",
        severity: Severity::Warning,
        what: "Gloss, angle or colour is read in preparation while oil or lubricant still lies on the surface.",
        why: "Oils fill marks and lift gloss by several units, and they bead water. The figure is that of the oil.",
        mend: "Read below the `wipe`.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    read        gloss-20 at 5 places
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
    read        gloss-20 at 5 places
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let mut oily: Option<&Step> = None;
    for step in prep(context) {
        let brushed = step.verb == Verb::Brush && oily.is_some_and(|left| salty(context, left));
        let clean = brushed || (step.verb == Verb::Wipe && !leaves(context, step));
        if clean {
            oily = None;
        } else if leaves(context, step) {
            oily = Some(step);
        }
        // A film of oil is thinner than what a gauge of film or moisture tells.
        let measure = step.measure.as_ref().map(|measure| study.measure(measure.value));
        let sees = measure.filter(|measure| !is_depth(&measure.name.value));
        let (Some(measure), Some(left)) = (sees, oily) else { continue };
        let message = format!("`{}` is read on what `{}` left", measure.name.value, left.verb.word());
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .related(
                    left.span,
                    if salty(context, left) { "it leaves salts" } else { "it leaves oil or lubricant" },
                )
                .help(if salty(context, left) {
                    "write the `read` below the rinse, the drying and the `brush` that take them off"
                } else {
                    "write the `read` below the `wipe`"
                })
                .about(&measure.name.value)
                .about("prep"),
        );
    }
}

/// Whether what a step leaves is no oil: bleach dries to salts.
fn salty(context: &Context<'_>, step: &Step) -> bool {
    supply(context.study, step).and_then(class).is_some_and(|class| class.is_in("hypochlorite"))
}

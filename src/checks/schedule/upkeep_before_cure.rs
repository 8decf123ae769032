//! Upkeep that begins while the film of a product still cures.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Study, Upkeep};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "upkeep-before-cure",
        severity: Severity::Warning,
        what: "Upkeep begins on a day on which a product has dried and has not had its `cure` time yet.",
        why: "Soap and a mitt on a film that has not cured take part of it off, and products that cure slowly are then washed away \
              by the plan and not by wear.",
        mend: "Begin upkeep after the longest cure: `from 8 days after apply`.",
        bad: "upkeep\n    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from 2 days after apply\n",
        good: "upkeep\n    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from 14 days after apply\n",
        source: "common practice, no source; the time is that of the product's own sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    findings.extend(study.upkeep.iter().filter_map(|upkeep| early(study, upkeep)));
}

fn early(study: &Study, upkeep: &Upkeep) -> Option<Finding> {
    let Upkeep::Every { step, span, .. } = upkeep else { return None };
    let at = study.upkeep_begins(upkeep)?;
    let day = at.date();
    // Before dry is the graver finding of water.
    if when::dries(study).iter().any(|wait| at < wait.over) {
        return None;
    }
    let waits = when::unfinished(&when::cures(study), day);
    let over = waits.iter().map(|wait| wait.over.date()).max()?;
    let days = study.last_of_all_coats()?.date().until(over).ok()?.get_days();
    let told = when::told(&waits);
    let message = format!(
        "the first {} of upkeep is due on {day}, before the film of {told} has cured",
        step.verb.word()
    );
    let finding = Finding::warning(CHECK.page.code, *span, message)
        .help(format!("write `from {days} days after apply`, which is {over}, or later"))
        .about("upkeep");
    Some(match waits.as_slice() {
        [only] => finding.about(&only.product.name.value),
        _ => finding,
    })
}

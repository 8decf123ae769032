//! Compound that no polish refines.

use super::steps::{class, folded, porous, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "compound-not-refined",
        severity: Severity::Warning,
        what: "Preparation has a `compound` and no `polish` after it, or one with the same compound.",
        why: "The marks of a compound scatter light: the baseline reads their haze, and a product that fills them looks as if it gave gloss.",
        mend: "Add a `polish` with a finer abrasive after the compound.",
        bad: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    read        film at 5 places, 3 times
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "measure film in um
    neither is better
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    read        film at 5 places, 3 times
    compound    with smooth-out  tool \"wool pad\"
    polish      with smooth-out  tool \"foam pad\"
    read        film at 5 places, 3 times
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
    let last = steps.iter().rposition(|step| step.verb == Verb::Compound);
    let Some(step) = last.map(|at| &steps[at]).filter(|_| porous(context).is_none()) else { return };
    // A polish that stands before the compound is a wrong order and told as that.
    let polishes: Vec<&Step> = steps.iter().filter(|step| step.verb == Verb::Polish).collect();
    if polishes.iter().any(|polish| refines(context, step, polish)) {
        return;
    }
    let finding = match polishes.last() {
        Some(polish) => {
            let name = supply(context.study, polish).map_or("it", |supply| supply.name.value.as_str());
            let message = format!("the marks of `compound` are not polished out: `{name}` is what made them");
            Finding::warning(CHECK.page.code, polish.span, message).related(step.span, "the compound is here")
        }
        None => Finding::warning(CHECK.page.code, step.span, "the marks of `compound` are not polished out"),
    };
    let help = "write a `polish` with a finer abrasive, as a supply that is `a polish`, and a pad of its own below it";
    findings.push(finding.help(help).about("prep"));
}

/// Whether a polish is finer than the compound: with something else than a compound, or with the same on another pad.
fn refines(context: &Context<'_>, compound: &Step, polish: &Step) -> bool {
    let of = |step: &Step| supply(context.study, step).and_then(class).map(|class| class.id);
    let with = |step: &Step| step.with.as_ref().map(|with| with.value);
    let pad = |step: &Step| step.tool.as_deref().map(folded);
    match of(polish) {
        Some("compound") => false,
        _ => with(polish).is_none() || with(polish) != with(compound) || pad(polish) != pad(compound),
    }
}

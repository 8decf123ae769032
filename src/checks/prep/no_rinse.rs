//! Chemicals that must be rinsed and are not.

use super::contact::contacts;
use super::steps::{class, sequences, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Study, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-rinse",
        severity: Severity::Warning,
        what: "A chemical that must be rinsed off is followed by neither a rinse nor a wash.",
        why: "What stays on the surface goes on acting, dries to spots, and lies under the products and the readings.",
        mend: "Add `rinse` to the step, or a step `rinse` after it.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min
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
    let contacts = contacts(context);
    // What meets the chemical is told with the step, and the same rinse mends both.
    let told =
        |step: &Step| contacts.iter().any(|contact| contact.is_unrinsed && contact.earlier.span == step.span);
    for sequence in sequences(context.study) {
        let mut rest = sequence.steps.as_slice();
        while let Some((step, later)) = rest.split_first() {
            let finding = finding(context.study, step, later).filter(|_| !told(step));
            findings.extend(finding.map(|finding| finding.about(sequence.place)));
            rest = later;
        }
    }
}

fn finding(study: &Study, step: &Step, later: &[&Step]) -> Option<Finding> {
    let supply = supply(study, step)?;
    let due = class(supply).is_some_and(|class| class.work.rinse_required);
    if !due || step.rinse || is_rinsed_by(later) {
        return None;
    }
    let name = &supply.name.value;
    let message = format!("`{}` with `{name}` is not rinsed", step.verb.word());
    Some(
        Finding::warning(CHECK.page.code, step.span, message)
            .help("add `rinse` at the end of the step")
            .about(name),
    )
}

/// Whether the next step takes the chemical off; waiting in between changes nothing about that.
fn is_rinsed_by(later: &[&Step]) -> bool {
    let next = later.iter().find(|step| step.verb != Verb::Wait);
    next.is_some_and(|step| matches!(step.verb, Verb::Rinse | Verb::Wash))
}

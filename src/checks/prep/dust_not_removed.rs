//! Sanding dust that stays on the surface.

use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "dust-not-removed",
        severity: Severity::Warning,
        what: "A `sand` or `brush` is followed by no `dust` before a seal, a wipe or the products.",
        why: "Dust fills the grain and takes the product up; the coat lies on dust and not on the surface.",
        mend: "Write `dust` after the last `sand`, with suction and a clean cloth.",
        bad: "supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    seal        with end-wax
    label
",
        good: "supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps = prep(context);
    let raises = |step: &Step| matches!(step.verb, Verb::Sand | Verb::Brush);
    let Some(at) = steps.iter().rposition(raises) else { return };
    // A wash takes dust off as well.
    let off = |step: &Step| matches!(step.verb, Verb::Dust | Verb::Wash | Verb::Rinse);
    let first_use = steps[at..].iter().position(|step| matches!(step.verb, Verb::Seal | Verb::Wipe));
    let until = first_use.map_or(steps.len(), |further| at + further);
    if steps[at..until].iter().any(off) {
        return;
    }
    let message = format!("the dust of `{}` is not taken off", steps[at].verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, steps[at].span, message)
            .help("write `dust tool \"suction, clean cloth\"` below it")
            .about("prep"),
    );
}

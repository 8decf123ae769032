//! Tape on what was just sealed or wiped.

use super::steps::{drying_s, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "tape-on-fresh-coat",
        severity: Severity::Warning,
        what: "Tape is laid directly on what a `seal` has left wet.",
        why: "It lifts the sealer with it, or its adhesive stays in it.",
        mend: "Give the sealer its time: `wait 12 h`, or as its data sheet says.",
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
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    tape        lines 6 mm wide
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
    seal        with end-wax,  wait 12 h
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let steps = prep(context);
    for (at, step) in steps.iter().enumerate().filter(|(_, step)| step.verb == Verb::Seal) {
        let further = steps[at..].iter().position(|step| step.verb == Verb::Tape);
        let Some(tape) = further.map(|further| at + further) else { continue };
        if drying_s(&steps[at..tape]) > 0.0 {
            continue;
        }
        findings.push(
            Finding::warning(CHECK.page.code, steps[tape].span, "tape is laid on a sealer that is still wet")
                .related(step.span, "it is put on here")
                .help("write `wait` and the drying time of its data sheet at the end of the `seal`")
                .about("prep"),
        );
    }
}

//! A coarser grit after a finer one.

use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "grit-turns-coarser",
        severity: Severity::Warning,
        what: "A `sand` is coarser than the one before it.",
        why: "It scratches what was just made fine, so the last grit, which the oil meets, is another than was meant.",
        mend: "Exchange the two, or take one out.",
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
    sand        grit 120  tool \"cork block\"
    sand        grit 80   tool \"cork block\"
    dust        tool \"suction, clean cloth\"
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
    let sanded: Vec<(&Step, u32)> =
        prep(context).iter().filter_map(|step| Some((step, step.grit.as_ref()?.value))).collect();
    for (&(before, fine), &(step, coarse)) in sanded.iter().zip(sanded.iter().skip(1)) {
        if coarse >= fine {
            continue;
        }
        findings.push(
            Finding::warning(
                CHECK.page.code,
                step.span,
                format!("grit {coarse} comes after the finer grit {fine}"),
            )
            .related(before.span, "the finer one")
            .help(format!("write the `sand` of grit {coarse} above that of grit {fine}"))
            .about("prep"),
        );
    }
}

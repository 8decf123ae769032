//! A jump in grit that leaves scratches.

use super::steps::prep;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "grit-jump",
        severity: Severity::Warning,
        what: "A `sand` is more than twice as fine as the one before it.",
        why: "The fine sheet does not reach the bottom of the coarse scratches. They show once the product is on, more on some sections than on others.",
        mend: "Put a grit between the two.",
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
    sand        grit 60   tool \"cork block\"
    sand        grit 180  tool \"cork block\"
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
    for (&(before, coarse), &(step, fine)) in sanded.iter().zip(sanded.iter().skip(1)) {
        if fine <= coarse.saturating_mul(2) {
            continue;
        }
        let between = coarse + (fine - coarse) / 2;
        findings.push(
            Finding::warning(
                CHECK.page.code,
                step.span,
                format!("grit {fine} after grit {coarse} leaves the coarse scratches"),
            )
            .related(before.span, "the coarse one")
            .help(format!("write a `sand` of about grit {between} between the two"))
            .about("prep"),
        );
    }
}

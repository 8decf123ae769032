//! Compound or polish on wood or masonry.

use super::steps::{porous, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "abrasive-on-porous",
        severity: Severity::Warning,
        what: "Wood or masonry is worked with a compound or polish.",
        why: "Its oils and white grains stay in the pores, where no wipe reaches them, and keep the product out.",
        mend: "Sand wood, brush masonry; leave the compound out.",
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
    polish      with smooth-out  tool \"foam pad\"
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
    let Some(ground) = porous(context) else { return };
    for step in prep(context).iter().filter(|step| matches!(step.verb, Verb::Compound | Verb::Polish)) {
        let message =
            format!("`{}` leaves oil and grains in the pores of the {}", step.verb.word(), ground.id);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help("write `sand` on wood or `brush` on masonry in its place")
                .about("prep"),
        );
    }
}

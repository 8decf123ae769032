//! Acid on dry masonry.

use super::steps::{class, ground, prep, supply, wets};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "masonry-not-wetted",
        severity: Severity::Warning,
        what: "Masonry meets an acid while it is dry.",
        why: "Dry joints suck the acid in, where no rinse reaches it: it eats the lime, and its salts bloom later.",
        mend: "Wet the wall with `rinse` directly before the acid, and rinse in full after it.",
        bad: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface wall
    material    brick, lime mortar
    size        880 x 580 mm
prep
    wash        with soap,  1 part to 200 water,  rinse
    dry
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        good: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface wall
    material    brick, lime mortar
    size        880 x 580 mm
prep
    wash        with soap,  1 part to 200 water,  rinse
    dry
    rinse
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    if ground(context).is_none_or(|ground| !ground.masonry) {
        return;
    }
    let mut wet = false;
    for step in prep(context) {
        let acid = supply(context.study, step)
            .filter(|supply| class(supply).is_some_and(|class| class.is_in("acid")));
        if let Some(supply) = acid.filter(|_| !wet) {
            let message = format!("`{}` meets the masonry dry", supply.name.value);
            findings.push(
                Finding::warning(CHECK.page.code, step.span, message)
                    .help("write `rinse` directly above it, so that the joints are full of water")
                    .about(&supply.name.value)
                    .about("prep"),
            );
        }
        wet = wets(context, step) || (wet && step.verb != Verb::Dry && step.wait.is_none());
    }
}

//! Masonry whose salts are not brushed off.

use super::steps::{ground, prep, wets};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "salts-not-brushed",
        severity: Severity::Advice,
        what: "Masonry is washed and dried, and not brushed when it is dry.",
        why: "As a wall dries its salts come to the face. A product on this bloom lies on powder.",
        mend: "Write `brush` after the drying, dry, and `dust` after it.",
        bad: "measure moisture in % moisture
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
    dry         48 h
    dust
    read        moisture at 6 places
    label
",
        good: "measure moisture in % moisture
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
    let steps = prep(context);
    let Some(at) = steps.iter().rposition(|step| wets(context, step)) else { return };
    if steps[at..].iter().any(|step| step.verb == Verb::Brush) {
        return;
    }
    findings.push(
        Finding::advice(
            CHECK.page.code,
            steps[at].span,
            "the salts that come out as the wall dries are not brushed off",
        )
        .help("write `brush` and `dust` after the drying")
        .about("prep"),
    );
}

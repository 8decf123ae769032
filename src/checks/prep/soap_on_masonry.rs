//! Soap on masonry, which keeps it.

use super::steps::{class, ground, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "soap-on-masonry",
        severity: Severity::Advice,
        what: "Masonry is washed with a shampoo.",
        why: "The pores keep soap: it draws water in or holds it off, feeds growth, and lies under the products. A rinse that clears paint does not clear stone.",
        mend: "Wash with plain water and a brush: `supply tap, plain water` and `wash with tap`. Where soap is needed, rinse twice and give it days to dry.",
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
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        good: "supply tap, plain water
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
    wash        with tap,  rinse  tool \"soft brush\"
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
    let soapy = prep(context).iter().filter(|step| step.verb == Verb::Wash).filter_map(|step| {
        let supply = supply(context.study, step)?;
        class(supply).is_some_and(|class| class.is_in("surfactant")).then_some((step, supply))
    });
    if let Some((step, supply)) = soapy.into_iter().next() {
        let name = &supply.name.value;
        findings.push(
            Finding::advice(CHECK.page.code, step.span, format!("`{name}` stays in the pores of masonry"))
                .help("wash with plain water and a brush, or rinse twice and let it dry for days")
                .about(name)
                .about("prep"),
        );
    }
}

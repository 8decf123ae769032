//! Upkeep that puts a product on.

use super::steps::{class, every_step, supply};
use crate::catalog::Class;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "upkeep-leaves-film",
        severity: Severity::Warning,
        what: "Upkeep, or what is done before each round, leaves a film: a spray sealant, a wax, an oily supply.",
        why: "From then on every section carries that film, the bare ones too, and differences between the products close.",
        mend: "Wash with a shampoo that leaves nothing.",
        bad: "supply shine, a spray sealant
    mix         neat
    sheet       \"shine-sheet.pdf\" dated 2025-10-01
upkeep
    every 3 weeks  wipe with shine  from 14 days after apply
",
        good: "upkeep
    every 3 weeks  wash with soap,  1 part to 200 water,  rinse  from 14 days after apply
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let later = every_step(context.study).into_iter().filter(|(place, _)| *place != "prep");
    for (place, step) in later {
        let Some(supply) = supply(context.study, step) else { continue };
        let films = |class: &Class| class.is_coat() && class.work.leaves_residue;
        if !supply.leaves_oils && !class(supply).is_some_and(films) {
            continue;
        }
        let message = format!("`{}` leaves a film on every section", supply.name.value);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .label("on every section, the bare ones too")
                .help("write `wash` with a shampoo that leaves nothing in its place")
                .about(&supply.name.value)
                .about(place),
        );
    }
}

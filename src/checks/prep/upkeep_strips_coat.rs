//! Upkeep that takes off what is tested.

use super::steps::{class, every_step, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "upkeep-strips-coat",
        severity: Severity::Warning,
        what: "Upkeep, or what is done before each round, uses an abrasive, a clay, a solvent or a strong cleaner.",
        why: "It takes the products off, so that the test tells how they bear this cleaner and not how they weather.",
        mend: "Wash with a neutral shampoo; or, where the cleaner is the question, waive this with the reason.",
        bad: "supply strip, an alkaline cleaner
    mix         1 part to 10 water
    sheet       \"strip-sheet.pdf\" dated 2025-10-01
upkeep
    every 3 weeks  wash with strip for 1 min, rinse  from 14 days after apply
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
        let supply = supply(context.study, step);
        let strips = supply.and_then(class).is_some_and(|class| {
            ["alkali", "acid", "hydrocarbon", "ketone", "alcohol"].iter().any(|group| class.is_in(group))
                && !class.is_coat()
        });
        let abrades = matches!(step.verb, Verb::Clay | Verb::Compound | Verb::Polish | Verb::Sand);
        if !strips && !abrades {
            continue;
        }
        let with = supply.map_or_else(String::new, |supply| format!(" with `{}`", supply.name.value));
        let message = format!("`{}`{with} takes products off between the rounds", step.verb.word());
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .label("on every coated section")
                .help("write `wash` with a shampoo in its place")
                .about(place),
        );
    }
}

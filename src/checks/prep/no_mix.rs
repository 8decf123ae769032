//! Concentrates that are used without a mix.

use super::mixes::{Use, uses};
use super::steps::class;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-mix",
        severity: Severity::Warning,
        what: "A concentrate is used, and neither the step nor its supply says how it is mixed.",
        why: "A stronger mix cleans more and harms more. Without the mix nobody can repeat the step, and the papers cannot say how much to measure out.",
        mend: "Write the mix in the step or in the supply: `1 part to 200 water`, `35 % by volume`, or `neat`.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let mut told: BTreeSet<&str> = BTreeSet::new();
    // A mix that could not be taken is there, and what is wrong with it is said.
    let without = |used: &&Use<'_>| used.mix.is_none() && !used.step.broken && !used.supply.is_unread("mix");
    for used in uses(context.study).iter().filter(without) {
        let name = used.supply.name.value.as_str();
        // What is in a can is ready for use.
        let mixed_as =
            class(used.supply).filter(|_| !used.supply.is_aerosol()).and_then(|class| class.work.mixed_as);
        if let Some(example) = mixed_as.filter(|_| told.insert(name)) {
            findings.push(finding(used, example));
        }
    }
}

fn finding(used: &Use<'_>, example: &str) -> Finding {
    let name = &used.supply.name.value;
    let message = format!("`{}` with `{name}` does not say how it is mixed", used.step.verb.word());
    Finding::warning(CHECK.page.code, used.step.span, message)
        .related(used.supply.name.span, "nor is there a mix here")
        .help(format!("add the mix that the data sheet says, as in `with {name} {example}`, or write `neat`"))
        .about(name)
        .about(used.place)
}

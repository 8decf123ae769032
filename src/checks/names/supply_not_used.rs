//! Supplies that no step uses.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Mix, Step, Study, Supply, Upkeep};
use crate::text::Located;
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "supply-not-used",
        severity: Severity::Advice,
        what: "A supply is defined and no step uses it.",
        why: "It stands on the shopping list for nothing, or a step has lost its `with`.",
        mend: "Name it in the step that uses it, or take it out.",
        bad: "supply lost, a tar remover
    sheet       \"lost-sheet.pdf\" dated 2025-10-01
",
        good: "supply lost, a tar remover
    sheet       \"lost-sheet.pdf\" dated 2025-10-01
prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with lost  for 2 min,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let steps = steps(study);
    // A study without preparation has one fault, not one for each supply.
    if study.prep.is_empty()
        || study.prep_broken
        || study.rounds_broken
        || steps.iter().any(|step| step.broken)
    {
        return;
    }
    let mut used = vec![false; study.supplies.len()];
    for with in steps.iter().filter_map(|step| step.with.as_ref()) {
        used[with.value.index()] = true;
    }
    let liquids = liquids(study, &steps);
    for (supply, used) in study.supplies.iter().zip(used) {
        if !used && supply.gear.is_none() && !liquids.contains(&supply.name.value.as_str()) {
            findings.push(finding(supply));
        }
    }
}

fn steps(study: &Study) -> Vec<&Step> {
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(&**step),
        Upkeep::None(_) => None,
    });
    let loose = study.specimens.iter().flat_map(|set| &set.prep);
    study
        .prep
        .iter()
        .chain(loose)
        .chain(&study.before_each_round)
        .chain(study.cycle_steps())
        .chain(upkeep)
        .collect()
}

/// Names of the liquids that mixes are made with.
fn liquids<'a>(study: &'a Study, steps: &[&'a Step]) -> BTreeSet<&'a str> {
    let in_steps = steps.iter().filter_map(|step| step.mix.as_ref());
    let in_things = study.supplies.iter().filter_map(|supply| supply.mix.as_ref());
    let in_products = study.products.iter().filter_map(|product| product.mix.as_ref());
    in_steps.chain(in_things).chain(in_products).filter_map(liquid).collect()
}

fn liquid(mix: &Located<Mix>) -> Option<&str> {
    match &mix.value {
        Mix::Parts { liquid, .. } => Some(liquid),
        Mix::Neat | Mix::Percent(_) => None,
    }
}

fn finding(supply: &Supply) -> Finding {
    let name = &supply.name.value;
    Finding::advice(CHECK.page.code, supply.name.span, format!("no step uses `{name}`"))
        .help(format!("write `with {name}` in the step that uses it, or take the supply out"))
        .about(name)
}

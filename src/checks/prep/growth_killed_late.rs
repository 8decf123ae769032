//! Growth on masonry that is washed about before it is killed.

use super::steps::{class, ground, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Step, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "growth-killed-late",
        severity: Severity::Advice,
        what: "On masonry, what kills algae and lichen stands after a wash or a remover.",
        why: "A wash carries living growth into joints and onto its neighbours, and wet pores thin what is to kill it. Loose growth is brushed off dry first, then it is killed, then it is cleaned.",
        mend: "Write the step that kills it above the first wash, with its dwell, and rinse it in full.",
        bad: "supply mould-off, bleach
    mix         1 part to 10 water
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
supply tap, plain water
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
    dry         24 h
    wash        with mould-off  for 5 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        good: "supply mould-off, bleach
    mix         1 part to 10 water
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
supply tap, plain water
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
    wash        with mould-off  for 5 min,  rinse
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
    let kills = |step: &Step| {
        supply(context.study, step).and_then(class).is_some_and(|class| class.is_in("oxidiser"))
    };
    let cleans = |step: &Step| matches!(step.verb, Verb::Wash | Verb::Decontaminate) && !kills(step);
    let steps = prep(context);
    let Some(at) = steps.iter().position(kills) else { return };
    let Some(before) = steps[..at].iter().find(|step| cleans(step)) else { return };
    let name = supply(context.study, &steps[at]).map_or("", |supply| supply.name.value.as_str());
    let message = format!("`{name}` kills growth that `{}` has already spread", before.verb.word());
    findings.push(
        Finding::advice(CHECK.page.code, steps[at].span, message)
            .related(before.span, "this carries it about")
            .help(format!(
                "write it above `{}`, after dry brushing, and rinse it in full",
                before.verb.word()
            ))
            .about(name)
            .about("prep"),
    );
}

//! Chemicals that must not meet, one after the other on a ground with pores, into which no rinse reaches.

use super::steps::{ground, porous, sequences, supply};
use crate::catalog::Pair;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{PORES_DRIED_H, Step};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "chemicals-in-pores",
        severity: Severity::Warning,
        what: "A ground with pores, as masonry, bare or oiled wood or fabric, gets two chemicals that must not meet, one soon after the other, with a rinse between them. Bleach and acid have a page of their own.",
        why: "A rinse clears a face, not pores, grain and joints: what they keep of the one meets the other there. The checklist says the same where it lists what must not meet.",
        mend: "Let at least 48 h of drying lie between the two, or leave one of them out. On wood an acid may follow an alkali, which it neutralises: there it is asked for.",
        bad: "supply strip, an alkaline cleaner
    mix         1 part to 10 water
    sheet       \"strip-sheet.pdf\" dated 2025-10-01
supply lime-off, an acid cleaner
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
    material    brick, cement mortar
    size        880 x 580 mm
prep
    wash        with strip  for 5 min,  rinse
    rinse
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        good: "supply strip, an alkaline cleaner
    mix         1 part to 10 water
    sheet       \"strip-sheet.pdf\" dated 2025-10-01
supply lime-off, an acid cleaner
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
    material    brick, cement mortar
    size        880 x 580 mm
prep
    wash        with strip  for 5 min,  rinse
    dry         48 h
    rinse
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        source: "the source of each pair stands on the safety cards; that pores keep it, and the 48 h, from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // A line that could not be read may have been the drying; it is an error already.
    if porous(context).is_none() || study.prep_broken || study.rounds_broken {
        return;
    }
    let wood = ground(context).is_some_and(|ground| ground.wood);
    for sequence in sequences(study) {
        for (earlier, later, pair) in study.others_met_in_pores(context.catalog, &sequence.steps) {
            // An acid takes alkali out of wood, which `wood-not-neutralised` asks for.
            if !(wood && [pair.a, pair.b].contains(&"acid") && [pair.a, pair.b].contains(&"alkali")) {
                findings.push(finding(context, (earlier, later), pair).about(sequence.place));
            }
        }
    }
}

fn finding(context: &Context<'_>, (earlier, later): (&Step, &Step), pair: &Pair) -> Finding {
    let name =
        |step: &Step| supply(context.study, step).map_or("", |supply| supply.name.value.as_str()).to_owned();
    let (one, other) = (name(earlier), name(later));
    Finding::warning(CHECK.page.code, later.span, format!("`{one}` is still in the pores when `{other}` comes"))
        .label(pair.result.trim_end_matches('.'))
        .related(earlier.span, format!("`{one}` is here"))
        .help(format!("write `dry {PORES_DRIED_H} h` between them, or leave one of the two out; a rinse does not empty pores, grain and joints"))
        .about(one)
        .about(other)
        .binding()
}

//! Bleach and acid on a ground with pores, into which no rinse reaches.

use super::steps::{porous, sequences, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "bleach-and-acid-in-pores",
        severity: Severity::Warning,
        what: "A ground with pores, as masonry, bare or oiled wood or fabric, gets bleach and acid, one soon after the other, with a rinse between them.",
        why: "A rinse clears a face, not pores, grain and joints: what they keep of the one meets the other there and gives chlorine gas, which can kill. No waiver silences this.",
        mend: "Leave one of the two out. Else let at least 48 h of drying lie between them, rinse before and after, and work outdoors with moving air.",
        bad: "supply mould-off, bleach
    mix         1 part to 10 water
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
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
    material    brick, lime mortar
    size        880 x 580 mm
prep
    wash        with mould-off  for 5 min,  rinse
    rinse
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        good: "supply mould-off, bleach
    mix         1 part to 10 water
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
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
    material    brick, lime mortar
    size        880 x 580 mm
prep
    wash        with mould-off  for 5 min,  rinse
    dry         72 h
    rinse
    decontaminate with lime-off  for 1 min,  rinse
    dry         48 h
    brush       tool \"stiff fibre brush\"
    dust
    read        moisture at 6 places
    label
",
        source: "CLP Regulation (EC) 1272/2008, Annex II, EUH031; that pores keep it, and the 48 h, from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    // Without any rinse between them it is an error of its own, which names both as well.
    // A line that could not be read may have been the drying; it is an error already.
    if porous(context).is_none() || study.prep_broken || study.rounds_broken {
        return;
    }
    for sequence in sequences(study) {
        let met = study.met_in_pores(&sequence.steps);
        findings.extend(met.map(|(earlier, later)| finding(context, earlier, later).about(sequence.place)));
    }
}

fn finding(context: &Context<'_>, earlier: &Step, later: &Step) -> Finding {
    let name =
        |step: &Step| supply(context.study, step).map_or("", |supply| supply.name.value.as_str()).to_owned();
    let (one, other) = (name(earlier), name(later));
    let message = format!("`{one}` is still in the pores when `{other}` comes: chlorine gas");
    Finding::warning(CHECK.page.code, later.span, message)
        .label("it can kill")
        .related(earlier.span, format!("`{one}` is here"))
        .help("leave one of the two out, or write `dry 72 h` between them")
        .about(one)
        .about(other)
        .binding()
}

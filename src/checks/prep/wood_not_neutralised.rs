//! Alkali left in wood.

use super::steps::{class, ground, prep, supply};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Step;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "wood-not-neutralised",
        severity: Severity::Warning,
        what: "Wood is cleaned with an alkali, and no acid brightener follows.",
        why: "A rinse does not take alkali out of the fibres. It stays, darkens oak, and keeps oils from drying.",
        mend: "After the rinse, `decontaminate with` an oxalic cleaner, then rinse again and dry.",
        bad: "supply strip, an alkaline cleaner
    mix         1 part to 10 water
    sheet       \"strip-sheet.pdf\" dated 2025-10-01
supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    wash        with strip  for 2 min,  rinse
    dry         24 h
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        good: "supply strip, an alkaline cleaner
    mix         1 part to 10 water
    sheet       \"strip-sheet.pdf\" dated 2025-10-01
supply bright, an oxalic cleaner
    mix         1 part to 10 water
    sheet       \"bright-sheet.pdf\" dated 2025-10-01
supply end-wax, a wax
    mix         neat
    sheet       \"end-wax-sheet.pdf\" dated 2025-10-01
measure moisture in % moisture
    neither is better
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
surface boards
    material    oak boards
    size        880 x 580 mm
prep
    wash        with strip  for 2 min,  rinse
    decontaminate with bright  for 10 min,  rinse
    dry         24 h
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    if ground(context).is_none_or(|ground| !ground.wood) {
        return;
    }
    let steps = prep(context);
    // Bleach is an alkali that no acid may follow: what the pores keep of it gives chlorine (CLP, Annex II, EUH031).
    let is_in = |step: &Step, group: &str| {
        supply(context.study, step).and_then(class).is_some_and(|class| class.is_in(group))
    };
    let bleached = steps.iter().any(|step| is_in(step, "hypochlorite"));
    let last = steps.iter().rposition(|step| is_in(step, "alkali"));
    let Some(at) = last.filter(|_| !bleached) else { return };
    if steps[at..].iter().any(|step| is_in(step, "acid")) {
        return;
    }
    let message = format!("nothing neutralises the alkali of `{}` in the wood", steps[at].verb.word());
    findings.push(
        Finding::warning(CHECK.page.code, steps[at].span, message)
            .help("rinse it, then `decontaminate with` an oxalic cleaner and rinse again")
            .about("prep"),
    );
}

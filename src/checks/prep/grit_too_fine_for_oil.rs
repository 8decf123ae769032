//! Wood sanded too fine for an oil.

use super::steps::{ground, prep};
use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};
use crate::study::KindOf;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "grit-too-fine-for-oil",
        severity: Severity::Advice,
        what: "Wood that gets a drying oil outdoors is finished finer than grit 180.",
        why: "Fine sanding closes and burnishes the grain; the oil stays on top, dries as a skin and peels.",
        mend: "Finish at grit 80 to 120 outdoors, or as the data sheet of the oil says.",
        bad: "product bay \"Bay oil\", a drying oil
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       10 to 15 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
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
    read        moisture at 6 places
    sand        grit 120  tool \"cork block\"
    sand        grit 220  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        good: "product bay \"Bay oil\", a drying oil
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       10 to 15 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
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

/// The finest grit that is usual under an oil.
const FINEST: u32 = 180;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    // A varnish holds oil too, and lies on the wood in place of soaking in.
    let oily = |kind: Option<&KindOf>| {
        kind.and_then(|kind| kind.class).is_some_and(|class| class.id == "drying-oil")
    };
    let oils: Vec<&str> = context
        .study
        .products
        .iter()
        .filter(|product| oily(product.kind.as_ref()))
        .map(|product| product.name.value.as_str())
        .collect();
    let last = prep(context).iter().rfind(|step| step.grit.is_some());
    let Some((step, grit)) = last.and_then(|step| Some((step, step.grit.as_ref()?))) else { return };
    if ground(context).is_none_or(|ground| !ground.wood) || oils.is_empty() || grit.value <= FINEST {
        return;
    }
    let message = format!("grit {} closes the grain for {}", grit.value, list(&oils, "and"));
    findings.push(
        Finding::advice(CHECK.page.code, step.span, message)
            .help("end the `sand` at grit 80 to 120, or as the data sheet of the oil says")
            .about("prep"),
    );
}

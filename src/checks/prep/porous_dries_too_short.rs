//! Wood or masonry that does not dry long enough.

use super::steps::{drying_s, porous, prep, wets};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "porous-dries-too-short",
        severity: Severity::Warning,
        what: "Between the last water and the products wood has less than a day, or masonry less than two.",
        why: "The face looks dry long before the pores are. The product is pushed off from behind, and on masonry salts bloom under it.",
        mend: "Write the time: `dry 24 h` on wood, `dry 48 h` on masonry, and read the moisture.",
        bad: "supply end-wax, a wax
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
    wash        with soap,  1 part to 200 water,  rinse
    dry         4 h
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    seal        with end-wax
    label
",
        good: "supply end-wax, a wax
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
    wash        with soap,  1 part to 200 water,  rinse
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
    let Some((ground, hours)) = porous(context).and_then(|own| Some((own, own.wait_after_water_h?))) else {
        return;
    };
    let steps = prep(context);
    let Some(at) = steps.iter().rposition(|step| wets(context, step)) else { return };
    let dried_h = drying_s(&steps[at..]) / 3600.0;
    if dried_h >= hours - 1e-9 || steps.iter().any(|step| step.broken) {
        return;
    }
    let (given, hours) = (decimal((dried_h * 10.0).round() / 10.0), decimal(hours));
    let message = format!(
        "after `{}` the {} dries {given} h, and {hours} h are usual",
        steps[at].verb.word(),
        ground.id
    );
    findings.push(
        Finding::warning(CHECK.page.code, steps[at].span, message)
            .help(format!("write `dry {hours} h` below it, and `read moisture` before the products"))
            .about("prep"),
    );
}

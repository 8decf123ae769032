//! Steel wool or a steel brush on wood or masonry.

use super::steps::{porous, prep};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "steel-on-porous",
        severity: Severity::Warning,
        what: "Wood or masonry is worked with steel wool or a steel brush.",
        why: "Splinters of steel stay in the pores and rust. With the tannin of oak they turn black under the product.",
        mend: "Use a fibre or bronze brush, or an abrasive without steel.",
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
    read        moisture at 6 places
    sand        grit 80   tool \"cork block\"
    sand        grit 120  tool \"cork block\"
    dust        tool \"suction, clean cloth\"
    brush       tool \"steel wool\"
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
    let Some(ground) = porous(context) else { return };
    for step in prep(context) {
        let tool = step.tool.as_deref().unwrap_or_default().to_lowercase();
        let steel = ["steel wool", "wire wool", "steel brush", "wire brush"]
            .iter()
            .find(|known| tool.contains(**known));
        let Some(steel) = steel.filter(|_| !tool.contains("stainless") && !tool.contains("bronze")) else {
            continue;
        };
        let message = format!("splinters of {steel} rust in the pores of the {}", ground.id);
        findings.push(
            Finding::warning(CHECK.page.code, step.span, message)
                .help(format!("name a fibre or bronze brush in `tool` of the `{}`", step.verb.word()))
                .about("prep"),
        );
    }
}

//! Mixes that are stronger than the stock they are made from.

use super::mixes::mixes;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Mix;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "stronger-than-supply",
        severity: Severity::Error,
        what: "A step asks for a stronger mix than the supply itself is.",
        why: "It cannot be made, so one of the two numbers is wrong.",
        mend: "Correct the percentage of the step or the strength of the supply.",
        bad: "supply spirit, isopropanol
    strength    30 % by volume
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
",
        good: "supply spirit, isopropanol
    strength    70 % by volume
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (used, mix) in mixes(context.study) {
        let (Mix::Percent(target), Some(stock)) = (&mix.value, used.supply.strength) else { continue };
        let comparable = target.unit.dimension == stock.unit.dimension;
        if !comparable || target.base() <= stock.base() {
            continue;
        }
        let name = &used.supply.name.value;
        let message = format!("{target} cannot be made from `{name}`, which has {stock}");
        findings.push(
            Finding::error(CHECK.page.code, mix.span, message)
                .related(used.supply.name.span, "its strength stands here")
                .help("correct the percentage of the step, or the strength of the supply")
                .about(name)
                .about(used.place),
        );
    }
}

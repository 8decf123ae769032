//! A two-pack product without its pot life.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-pot-life",
        severity: Severity::Warning,
        what: "A two-pack product does not say how long its mix may be used.",
        why: "Past the pot life the mix thickens before it looks it: later sections get a thicker and weaker coat than earlier ones.",
        mend: "Write `pot life` and the time of the data sheet.",
        bad: "supply air-line, supplied air
product bay \"Bay clear\", an isocyanate coating
    bought      60.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    mix         2 parts to 1 hardener
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        good: "supply air-line, supplied air
product bay \"Bay clear\", an isocyanate coating
    bought      60.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    mix         2 parts to 1 hardener
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for product in context.study.products.iter().filter(|product| !product.broken && product.keeps.is_none())
    {
        let two_pack =
            product.kind.as_ref().and_then(|kind| kind.class).is_some_and(|class| class.is_in("isocyanate"));
        if !two_pack || product.is_unread("pot") || product.is_unread("keeps") {
            continue;
        }
        let name = &product.name.value;
        findings.push(
            Finding::warning(CHECK.page.code, product.name.span, format!("`{name}` has no pot life"))
                .help("write `pot life 30 min`, or the time of its data sheet, under it")
                .about(name),
        );
    }
}

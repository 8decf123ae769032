//! A two-pack product without its mix.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "two-pack-without-mix",
        severity: Severity::Warning,
        what: "A two-pack product does not say how its parts are mixed.",
        why: "By a wrong share it stays soft or turns brittle, and nobody can repeat the test.",
        mend: "Write `mix 2 parts to 1 hardener`, and whether that is by volume or mass where the sheet says.",
        bad: "supply air-line, supplied air
product bay \"Bay clear\", an isocyanate coating
    bought      60.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    pot life    30 min
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
    for product in context
        .study
        .products
        .iter()
        .filter(|product| !product.broken && product.each_coat().all(|coat| coat.mix.is_none()))
    {
        let two_pack =
            product.kind.as_ref().and_then(|kind| kind.class).is_some_and(|class| class.is_in("isocyanate"));
        if !two_pack || product.is_aerosol() || product.is_unread("mix") {
            continue;
        }
        let name = &product.name.value;
        findings.push(
            Finding::warning(
                CHECK.page.code,
                product.name.span,
                format!("`{name}` does not say how its parts are mixed"),
            )
            .help("write `mix 2 parts to 1 hardener`, or the share of its data sheet, under it")
            .about(name),
        );
    }
}

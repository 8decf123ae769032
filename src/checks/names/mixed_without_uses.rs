//! Products that are mixed from parts and do not say what an area takes.

use crate::catalog::same_name;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Mix, Product};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "mixed-without-uses",
        severity: Severity::Warning,
        what: "A product of two parts does not say what an area takes of it.",
        why: "How much has to be mixed then cannot be worked out, and the checklist gives the shares of a batch that may be far more than is needed. What is left over of such a mix sets, and in bulk it heats up.",
        mend: "Write `uses 80 ml per m2`, with the number of its data sheet.",
        bad: "supply air-line, supplied air
supply hardener, an isocyanate hardener
    sheet       \"hardener-sheet.pdf\" dated 2025-10-01
product bay \"Bay seal\", an isocyanate coating
    bought      20.00 EUR for 500 ml
    mix         2 parts to 1 hardener
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        good: "supply air-line, supplied air
supply hardener, an isocyanate hardener
    sheet       \"hardener-sheet.pdf\" dated 2025-10-01
product bay \"Bay seal\", an isocyanate coating
    bought      20.00 EUR for 500 ml
    mix         2 parts to 1 hardener
    uses        80 ml per m2
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source; that a left-over mix heats up from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, product) in study.products_with_ids() {
        if product.broken || product.is_aerosol() || product.is_unread("uses") || !study.is_laid_on(id) {
            continue;
        }
        if product.each_coat().any(|coat| is_of_parts(product, coat.mix.as_ref()) && coat.uses.is_none()) {
            let name = &product.name;
            let message = format!("`{}` is mixed, and does not say what an area takes of it", name.value);
            findings.push(
                Finding::warning(CHECK.page.code, name.span, message)
                    .label("so nobody can say how much to mix")
                    .help("write `uses 80 ml per m2` under it, with the number of its data sheet")
                    .about(&name.value),
            );
        }
    }
}

/// What is thinned with water keeps; what sets once it is mixed does not.
fn is_of_parts(product: &Product, mix: Option<&Mix>) -> bool {
    let class = product.kind.as_ref().and_then(|kind| kind.class);
    match mix {
        Some(Mix::Parts { liquid, .. }) => !same_name(liquid, "water"),
        Some(Mix::Percent(_)) => class.is_some_and(|class| class.is_in("isocyanate")),
        Some(Mix::Neat) | None => false,
    }
}

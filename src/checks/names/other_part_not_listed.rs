//! Parts of a mix, as a hardener, that no supply stands for.

use crate::catalog::same_name;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Mix, Product};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "other-part-not-listed",
        severity: Severity::Warning,
        what: "A product is mixed with another part, as a hardener, and no supply is called by its name.",
        why: "The other part has a label and a data sheet of its own, often the graver ones. Without a supply it has no card, no batch and no price, and nobody sees what it must not meet.",
        mend: "Write a supply with the name that the mix uses: `supply hardener, an isocyanate hardener`, with its sheet.",
        bad: "supply air-line, supplied air
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
    pot life    30 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "OSHA 29 CFR 1910.1200(g) (a data sheet for each hazardous chemical)",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let listed = |name: &str| study.supplies.iter().any(|supply| same_name(&supply.name.value, name));
    for (id, product) in study.products_with_ids() {
        if product.broken || !study.is_laid_on(id) {
            continue;
        }
        if let Some(part) = other_part(product).filter(|part| !listed(part)) {
            let name = &product.name;
            findings.push(
                Finding::warning(
                    CHECK.page.code,
                    product.mix.as_ref().map_or(name.span, |mix| mix.span),
                    format!("`{}` is mixed with `{part}`, and no supply is called that", name.value),
                )
                .label("it has no card")
                .help(format!("write a block `supply {part}` with what it is, as `an isocyanate hardener`, and its sheet"))
                .about(&name.value),
            );
        }
    }
}

fn other_part(product: &Product) -> Option<String> {
    let mixes = product.each_coat().filter_map(|coat| coat.mix);
    let liquids = mixes.filter_map(|mix| match mix {
        Mix::Parts { liquid, .. } => Some(liquid),
        Mix::Neat | Mix::Percent(_) => None,
    });
    liquids.into_iter().find(|liquid| !same_name(liquid, "water"))
}

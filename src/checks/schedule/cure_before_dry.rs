//! A product that is cured before it is dry.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Product;
use crate::text::Span;
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "cure-before-dry",
        severity: Severity::Warning,
        what: "The `cure` time of a product is shorter than its `dry` time.",
        why: "A film is dry to the touch long before it has cured. One of the two is a slip, in its number or in \
              its unit, and rounds, upkeep and the day outdoors are checked against it.",
        mend: "Take both times from the product's sheet.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
              dry         12 h\n    cure        7 h\n    sheet       \"bay-sheet.pdf\"\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               dry         12 h\n    cure        7 days\n    sheet       \"bay-sheet.pdf\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    // Products that are like another one share its line, and that is one slip.
    let mut told: BTreeSet<Span> = BTreeSet::new();
    for product in context.study.products.iter().filter(|product| !product.broken) {
        findings.extend(swapped(product).filter(|finding| told.insert(finding.place.span)));
    }
}

fn swapped(product: &Product) -> Option<Finding> {
    let (dry, cure) = (product.dry.as_ref()?, product.cure.as_ref()?);
    if cure.value.seconds() >= dry.value.seconds() {
        return None;
    }
    let name = &product.name.value;
    let message = format!("`{name}` cures in {} and dries in {}", cure.value, dry.value);
    let finding =
        Finding::warning(CHECK.page.code, cure.span, message).related(dry.span, "its time to dry").help(
            "take both times from its sheet; `dry` is to the touch, `cure` until it may be washed and read",
        );
    Some(finding.about(name))
}

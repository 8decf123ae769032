//! Products that are bought by mass and used by volume, or the other way round.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::Product;
use crate::units::Dimension;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "price-unlike-use",
        severity: Severity::Advice,
        what: "The price of a product is for a mass and its `uses` is a volume on an area, or the other way round.",
        why: "Without the density nobody can say what a section costs, so the report leaves the cost of that \
              product out.",
        mend: "Give both in grams or both in millilitres; the label or the data sheet mostly has the other figure.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 450 g\n    \
              uses        20 ml per m2\n    sheet       \"bay-sheet.pdf\"\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               uses        20 ml per m2\n    sheet       \"bay-sheet.pdf\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let products = context.study.products.iter().filter(|product| !product.broken && is_unlike(product));
    let products: Vec<&Product> = products.collect();
    let Some(first) = products.first() else { return };
    let names: Vec<String> = products.iter().map(|product| format!("`{}`", product.name.value)).collect();
    let (are, cost) = if names.len() == 1 { ("is", "its cost") } else { ("are", "their cost") };
    let message = format!(
        "{} {are} bought by one kind of amount and used by another, so {cost} cannot be worked out",
        list(&names, "and")
    );
    let help = match (first.price, first.uses) {
        (Some(price), Some(uses)) => format!(
            "`{}` is bought for {} and uses {uses}; give both as a volume, or both as a mass",
            first.name.value, price.amount
        ),
        _ => String::from("give both as a volume, or both as a mass"),
    };
    let finding = Finding::advice(CHECK.page.code, first.name.span, message).help(help);
    findings.push(products.iter().fold(finding, |finding, product| finding.about(&product.name.value)));
}

fn is_unlike(product: &Product) -> bool {
    let kinds = product.price.zip(product.uses);
    let kinds = kinds.map(|(price, uses)| (price.amount.unit.dimension, uses.unit.dimension));
    matches!(
        kinds,
        Some((Dimension::Mass, Dimension::VolumePerArea) | (Dimension::Volume, Dimension::MassPerArea))
    )
}

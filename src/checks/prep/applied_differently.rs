//! Products of one comparison that are laid on in different ways.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::Product;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "applied-differently",
        severity: Severity::Advice,
        what: "Products that are compared are laid on with different tools, and no line says why.",
        why: "A brush leaves more than a cloth, and a gun leaves it more evenly. What is compared is then the product and the \
              way of applying it together, and nobody can tell which of the two made the difference.",
        mend: "Lay them on in one way, or give the reason: `tool \"...\" because \"its sheet asks for a gun\"`. The report prints it.",
        bad: "product rue, a wax\n    tool \"foam pad\"\nproduct fig, a wax\n    tool \"cotton cloth\"\n\
              map  sections 166 x 116 mm  gap 18 mm\n    | rue fig bare rue |\n    | fig bare rue fig |\n",
        good: "product rue, a wax\n    tool \"foam pad\"\nproduct fig, a wax\n    tool \"foam pad\"\n\
               map  sections 166 x 116 mm  gap 18 mm\n    | rue fig bare rue |\n    | fig bare rue fig |\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let told: Vec<&Product> =
        placed.map(|(_, product)| product).filter(|product| product.tool.is_some()).collect();
    // Ranking stays inside a category, so that what differs between two of them decides nothing.
    let mut seen: Vec<Option<&str>> = Vec::new();
    for first in &told {
        let category = first.category.as_deref();
        if seen.contains(&category) {
            continue;
        }
        seen.push(category);
        let of_category = told.iter().filter(|product| product.category.as_deref() == category);
        let own: Vec<&&Product> = of_category.collect();
        let Some(usual) = own.first().and_then(|product| product.tool.as_ref()) else { continue };
        let other = own.iter().find_map(|product| {
            let tool = product.tool.as_ref()?;
            (!same(&tool.how, &usual.how)).then_some((product, tool))
        });
        let Some((product, tool)) = other else { continue };
        let unlike = own.iter().filter_map(|product| product.tool.as_ref());
        if unlike.filter(|own| own.because.is_none()).all(|own| same(&own.how, &usual.how)) {
            continue;
        }
        let message = format!(
            "`{}` goes on with `{}`, and `{}` with `{}`: the way of applying is then part of the product",
            first.name.value, usual.how, product.name.value, tool.how
        );
        let names: Vec<&str> = own.iter().map(|product| product.name.value.as_str()).collect();
        let finding = Finding::advice(CHECK.page.code, tool.span, message)
            .related(usual.span, "the other way")
            .help(format!(
                "lay {} on in one way, or say why not: `tool \"{}\" because \"...\"`",
                list(&names, "and"),
                tool.how
            ));
        findings.push(names.iter().fold(finding, |finding, name| finding.about(*name)));
    }
}

fn same(one: &str, other: &str) -> bool {
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    plain(one) == plain(other)
}

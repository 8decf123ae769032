//! Supplies and products that do not say what they are.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "class-not-stated",
        severity: Severity::Advice,
        what: "A supply or product does not say what kind of thing it is.",
        why: "Its cautions and the chemicals it must not meet are not known. The checklist prints: class not stated, follow the data sheet, do not start without it.",
        mend: "Say what it is after its name, as in `supply iron-off, an iron remover`.",
        bad: "supply iron-off
    mix         neat
    dwell       2 to 6 min
    sheet       \"iron-off-sheet.pdf\" dated 2025-10-01
",
        good: "supply iron-off, an iron remover
    mix         neat
    dwell       2 to 6 min
    sheet       \"iron-off-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().filter(|supply| !supply.broken && supply.gear.is_none());
    let supplies = supplies.filter(|supply| supply.kind.is_none()).map(|supply| ("supply", &supply.name));
    let products = study.products.iter().filter(|product| !product.broken && product.kind.is_none());
    let products = products.map(|product| ("product", &product.name));
    for (word, name) in supplies.chain(products) {
        let example = if word == "supply" { "an iron remover" } else { "a silica coating" };
        let title = &name.value;
        findings.push(
            Finding::advice(CHECK.page.code, name.span, format!("`{title}` does not say what it is"))
                .label("the checklist prints \"class not stated\"")
                .help(format!("write its kind after its name, as in `{word} {title}, {example}`"))
                .about(title),
        );
    }
}

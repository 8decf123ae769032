//! Kinds that the catalog does not know.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, nearest};
use crate::study::KindOf;
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "class-not-known",
        severity: Severity::Advice,
        what: "The kind of a supply or product is none that the catalog knows.",
        why: "Its cautions, dwell and the pairs it must not meet cannot be printed or checked. The papers say: class not stated, follow the data sheet.",
        mend: "Use a kind of the catalog, as in `an iron remover`, where one fits.",
        bad: "product bay \"Bay seal\", a spray seelant
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       2 to 4 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        good: "product bay \"Bay seal\", a spray sealant
    bought      20.00 EUR for 500 ml
    batch       \"A1\"  opened 2026-03-02
    flash       2 to 4 min
    dry         12 h
    cure        7 days
    sheet       \"bay-sheet.pdf\" dated 2025-10-01
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let supplies = context.study.supplies.iter().filter(|supply| supply.gear.is_none());
    let supplies = supplies.map(|supply| (&supply.name, supply.kind.as_ref()));
    let products = context.study.products.iter().map(|product| (&product.name, product.kind.as_ref()));
    for (name, kind) in supplies.chain(products) {
        let unknown = kind.filter(|kind| kind.class.is_none());
        findings.extend(unknown.map(|kind| finding(context, name, kind)));
    }
}

fn finding(context: &Context<'_>, name: &Located<String>, kind: &KindOf) -> Finding {
    let words = &kind.words.value;
    let finding = Finding::advice(
        CHECK.page.code,
        kind.words.span,
        format!("`{words}` is no kind that the catalog knows"),
    )
    .label("its cautions cannot be printed")
    .about(&name.value);
    match nearest(words, context.catalog.class_names()) {
        Some(known) => finding.help(format!("did you mean `{known}`?")),
        None => finding.help("use a kind of the catalog where one fits, and follow the data sheet"),
    }
}

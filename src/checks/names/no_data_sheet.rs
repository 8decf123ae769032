//! Supplies and products without a data sheet.

use crate::catalog::{Class, SheetSeverity};
use crate::checks::prep::fluoride_without_gel::is_gluconate_gel;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Sheet;
use crate::text::Located;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-data-sheet",
        severity: Severity::Advice,
        what: "A supply or product names no data sheet. It is an error for corrosive, toxic, fluoride, isocyanate, hypochlorite and peroxide classes, and stays one in spite of `allow`.",
        why: "The built-in cards give the usual case of a class. Only the data sheet of the product knows its strength, its dwell and its first aid.",
        mend: "Name the sheet and its date: `sheet \"iron-off-sheet.pdf\" dated 2025-10-01`.",
        bad: "supply iron-off, an iron remover
    mix         neat
    dwell       2 to 6 min
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
    let supplies = study.supplies.iter().filter(|supply| !supply.broken && !is_gluconate_gel(supply));
    let supplies = supplies.map(|supply| (&supply.name, supply.kind.as_ref(), supply.sheet.as_ref()));
    let products = study.products.iter().filter(|product| !product.broken);
    let products = products.map(|product| (&product.name, product.kind.as_ref(), product.sheet.as_ref()));
    for (name, kind, sheet) in supplies.chain(products) {
        findings.extend(finding(name, kind.and_then(|kind| kind.class), sheet));
    }
}

fn finding(name: &Located<String>, class: Option<&Class>, sheet: Option<&Sheet>) -> Option<Finding> {
    if sheet.is_some() || class.is_some_and(|class| class.id == "water") {
        return None;
    }
    let must = class.filter(|class| class.sheet_severity == SheetSeverity::Error);
    let severity = if must.is_some() { Severity::Error } else { Severity::Advice };
    let finding =
        Finding::new(CHECK.page.code, severity, name.span, format!("`{}` names no data sheet", name.value))
            .help("write `sheet`, the name of the file and `dated` with its date under it")
            .about(&name.value);
    Some(match must {
        Some(class) => finding.label(format!("{} can hurt; do not start without it", class.name)).binding(),
        None => finding,
    })
}

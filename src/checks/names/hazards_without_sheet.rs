//! Hazards that are stated with no data sheet to look them up in.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "hazards-without-sheet",
        severity: Severity::Warning,
        what: "A supply or product states its hazards, and names no data sheet.",
        why: "What is stated takes the place of the usual label of the class, on every card. Nobody can see whether it was copied right, or from a sheet that is still valid.",
        mend: "Name the sheet and its date: `sheet \"spirit-sheet.pdf\" dated 2025-10-01`.",
        bad: "supply spirit, isopropanol
    strength    99 % by volume
    hazards     H225, H319, H336, P210, P233
",
        good: "supply spirit, isopropanol
    strength    99 % by volume
    sheet       \"spirit-sheet.pdf\" dated 2025-10-01
    hazards     H225, H319, H336, P210, P233
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().map(|own| (&own.name, own.stated.as_ref(), own.sheet.is_some()));
    let products = study.products.iter().map(|own| (&own.name, own.stated.as_ref(), own.sheet.is_some()));
    for (name, stated, sheet) in supplies.chain(products) {
        let Some(stated) = stated.filter(|_| !sheet) else { continue };
        let message = format!("`{}` states its hazards and names no data sheet", name.value);
        findings.push(
            Finding::warning(CHECK.page.code, stated.span, message)
                .help("write `sheet`, the name of the file and `dated` with its date above it")
                .about(&name.value),
        );
    }
}

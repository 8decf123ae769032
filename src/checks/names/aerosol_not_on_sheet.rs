//! Spray cans whose stated hazards are not those of a spray can.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::UNDER_PRESSURE;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "aerosol-not-on-sheet",
        severity: Severity::Warning,
        what: "A spray can states its hazards, and H229 is not among them.",
        why: "Every aerosol carries H229, and H222 or H223 besides where it burns. A list without it is that of the liquid, or was copied in part. The card has H222 and H229 all the same.",
        mend: "Copy section 2 of the data sheet of the can. If it is no spray can, write `packed bottle`.",
        bad: "supply blast, an acetone
    packed      aerosol
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
    hazards     H225, H319, H336, P210
",
        good: "supply blast, an acetone
    packed      aerosol
    sheet       \"blast-sheet.pdf\" dated 2025-10-01
    hazards     H222, H229, H319, H336, P210, P211, P251, P410+P412
",
        source: "UN GHS, chapter 2.3 and Annex 3",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().filter(|own| own.is_aerosol()).map(|own| (&own.name, &own.stated));
    let products = study.products.iter().filter(|own| own.is_aerosol()).map(|own| (&own.name, &own.stated));
    for (name, stated) in supplies.chain(products) {
        let Some(stated) = stated else { continue };
        if stated.hazards.iter().any(|code| code == UNDER_PRESSURE) {
            continue;
        }
        let message =
            format!("`{}` is a spray can, and its stated hazards lack {UNDER_PRESSURE}", name.value);
        findings.push(
            Finding::warning(CHECK.page.code, stated.span, message)
                .label("its card has H222 and H229 all the same")
                .help("copy the codes of section 2 of the data sheet of the can; write `packed bottle` if it is none")
                .about(&name.value),
        );
    }
}

//! `hazards none` beside a class that burns, poisons or sensitises.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-hazards-for-class",
        severity: Severity::Error,
        what: "A supply or product states no hazard, and its class burns, poisons or sensitises.",
        why: "No label would stand on the papers of a thing that hurts. The usual label of its class stays there until codes replace it. This stays an error in spite of a waiver.",
        mend: "Copy the codes of section 2 of its data sheet: `hazards H315, H319`. If the sheet states none, name the kind that it is instead.",
        bad: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
    hazards     none
",
        good: "supply lime-off, an acid cleaner
    mix         neat
    sheet       \"lime-off-sheet.pdf\" dated 2025-10-01
    hazards     H315, H319
",
        source: "OSHA 29 CFR 1910.1200(f) (a label tells the hazards); CLP Regulation (EC) 1272/2008, Article 17",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let supplies = study.supplies.iter().map(|own| (&own.name, &own.kind, own.stated.as_ref(), own.label()));
    let products = study.products.iter().map(|own| (&own.name, &own.kind, own.stated.as_ref(), own.label()));
    for (name, kind, stated, label) in supplies.chain(products) {
        let Some(stated) = stated.filter(|_| label.is_none()) else { continue };
        let kind = kind.as_ref().map_or("", |kind| kind.words.value.as_str());
        let message = format!("`{}` is `{kind}`, and its hazards are stated as none", name.value);
        findings.push(
            Finding::error(CHECK.page.code, stated.span, message)
                .label("the usual label of its class stays on the papers")
                .help("copy the codes of section 2 of its data sheet; if that states none, name the kind that it is")
                .about(&name.value)
                .binding(),
        );
    }
}

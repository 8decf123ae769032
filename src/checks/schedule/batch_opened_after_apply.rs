//! A batch that was opened after the product went on.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "batch-opened-after-apply",
        severity: Severity::Warning,
        what: "The batch of a product was opened on a day after its last coat was to go on.",
        why: "Either the batch is not the one that was used, or one of the two dates is a slip. The batch is \
              what a maker asks for first.",
        mend: "Correct `opened`, or the day under `apply`.",
        bad: "product ash \"Ash seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
              batch       \"A1\"  opened 2026-03-20\n    sheet       \"ash-sheet.pdf\"\n",
        good: "product ash \"Ash seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               batch       \"A1\"  opened 2026-03-02\n    sheet       \"ash-sheet.pdf\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for product in study.products.iter().filter(|product| !product.broken) {
        let batch = product.batch.as_ref();
        let opened = batch.and_then(|batch| Some((batch, batch.opened?)));
        let (Some((batch, opened)), Some(last)) = (opened, when::last_coat(study, product)) else { continue };
        if opened <= last.date() {
            continue;
        }
        let name = &product.name.value;
        let message = format!(
            "batch {} of {name} was opened on {opened}, after its last coat on {}",
            batch.batch,
            last.date()
        );
        let finding = Finding::warning(CHECK.page.code, product.name.span, message)
            .help("correct one of the two dates, or name the batch that was used");
        findings.push(finding.about(name));
    }
}

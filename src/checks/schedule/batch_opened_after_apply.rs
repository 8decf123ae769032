//! A batch that was opened after the product went on.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Product, ProductId, Study};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "batch-opened-after-apply",
        severity: Severity::Warning,
        what: "The batch of a product was opened on a day after its last coat was to go on.",
        why: "Either the batch is not the one that was used, or one of the two dates is a slip. The batch is \
              what a maker asks for first.",
        mend: "Correct `opened`, or the day under `apply`.",
        bad: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
              batch       \"A1\"  opened 2026-03-20\n    sheet       \"bay-sheet.pdf\"\n",
        good: "product bay \"Bay seal\", a spray sealant\n    bought      20.00 EUR for 500 ml\n    \
               batch       \"A1\"  opened 2026-03-02\n    sheet       \"bay-sheet.pdf\"\n",
        source: "common practice, no source",
    },
    run,
};

/// A product whose batch was opened late, and the day of its last coat.
struct Late<'s> {
    product: &'s Product,
    opened: Date,
    last: Date,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let on = study.apply.as_ref().and_then(|apply| apply.on.as_ref());
    // Where the day of apply is itself a slip, that is said once and not for every batch.
    if on.zip(study.begins.as_ref()).is_some_and(|(on, begins)| on.value < begins.value) {
        return;
    }
    let late: Vec<Late<'_>> =
        study.products_with_ids().filter_map(|(id, product)| late(study, id, product)).collect();
    findings.extend(told(&late));
}

fn late<'s>(study: &Study, id: ProductId, product: &'s Product) -> Option<Late<'s>> {
    let opened = product.batch.as_ref().filter(|_| !product.broken)?.opened?;
    let last = study.last_coat(id)?.date();
    (opened > last).then_some(Late { product, opened, last })
}

fn told(late: &[Late<'_>]) -> Option<Finding> {
    let first = late.first()?;
    let tell = |late: &Late<'_>| format!("`{}` on {}", late.product.name.value, late.opened);
    let mut opened: Vec<String> = late.iter().take(3).map(tell).collect();
    if late.len() > 3 {
        opened.push(format!("{} more", late.len() - 3));
    }
    let batch = if late.len() == 1 { "the batch was" } else { "batches were" };
    let message = format!("{batch} opened after the last coat of {}: {}", first.last, list(&opened, "and"));
    let finding = Finding::warning(CHECK.page.code, first.product.name.span, message)
        .help("correct one of the two dates, or name the batch that was used");
    Some(match late {
        [only] => finding.about(&only.product.name.value),
        _ => finding.about("apply"),
    })
}

//! A panel that stands outdoors before the products are on.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Study;
use crate::text::Located;
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "put-out-before-apply",
        severity: Severity::Warning,
        what: "The panel is put out on a day before the products are on: before the first coat, or before the last \
               one of a product that gets several.",
        why: "Dust, dew and sun reach the prepared surface before it is covered, so the products do not go on \
              what the prep record describes.",
        mend: "Correct `put out` under `exposure`, or `on` under `apply`.",
        bad: "exposure \"Test yard\"\n    put out     2026-03-02\n",
        good: "exposure \"Test yard\"\n    put out     2026-03-12\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for put_out in study.puts_out() {
        early(study, put_out, findings);
    }
}

fn early(study: &Study, put_out: &Located<Date>, findings: &mut Vec<Finding>) {
    let Some(first) = study.first_coat() else { return };
    let message = if put_out.value < first.date() {
        format!("the panel is put out on {}, and the products go on on {}", put_out.value, first.date())
    } else {
        let coated = when::coated(study).filter(|(_, last)| put_out.value < last.date());
        let Some((product, last)) = coated else { return };
        let (name, last) = (&product.name.value, last.date());
        format!("the panel is put out on {}, and the last coat of `{name}` goes on on {last}", put_out.value)
    };
    let finding = Finding::warning(CHECK.page.code, put_out.span, message)
        .help("correct one of the two dates, or say in a waiver that it is coated where it stands");
    findings.push(finding.about("exposure").about("apply"));
}

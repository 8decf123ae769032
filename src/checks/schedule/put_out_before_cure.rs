//! A panel that goes outdoors before its products have cured.

use super::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Study;
use crate::text::Located;
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "put-out-before-cure",
        severity: Severity::Warning,
        what: "The panel is put out before a product has had its `cure` time after its last coat.",
        why: "Rain, dirt and sun on a film that has not cured mark it for good. Products that cure slowly then \
              start with a handicap that says nothing about how they wear.",
        mend: "Put the panel out on or after the day on which the slowest product has cured, or keep the waiver \
               that says why not.",
        bad: "exposure \"Test yard\"\n    put out     2026-03-06\n",
        good: "exposure \"Test yard\"\n    put out     2026-03-10\n",
        source: "common practice, no source; the time is that of the product's own sheet",
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
    let Some((_, coated)) = when::coated(study) else { return };
    // Before the last coat is another finding; before dry is the graver one of water.
    if put_out.value < coated.date() || !when::unfinished(&when::dries(study), put_out.value).is_empty() {
        return;
    }
    let waits = when::unfinished(&when::cures(study), put_out.value);
    let Some(over) = waits.iter().map(|wait| wait.over.date()).max() else { return };
    let message = format!(
        "the panel is put out on {}, before the film of {} has cured",
        put_out.value,
        when::told(&waits)
    );
    let mut finding = Finding::warning(CHECK.page.code, put_out.span, message)
        .help(format!("put it out on {over} or later"))
        .about("exposure");
    if let [only] = waits.as_slice() {
        finding = finding.about(&only.product.name.value);
    }
    findings.push(finding);
}

//! A gauge without a certificate and without a word on why.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-certificate",
        severity: Severity::Advice,
        what: "A gauge that a round needs states no certificate, and does not say that it never had one.",
        why: "A reader of the report cannot judge readings of a gauge that nobody checked against a known value.",
        mend: "Add `certified 2026-02-01 for 12 months`, or `certified never because \"...\"`.",
        bad: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n",
        good: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
               certified   2026-02-01 for 12 months\n",
        source: "ISO 10012:2003, clause 7.1",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for gauge in &study.gauges {
        let used = gauge
            .reads
            .iter()
            .any(|read| study.rounds_with_ids().any(|(id, _)| study.planned_readings(id, read.value) > 0));
        if gauge.broken || !used || !gauge.certificates.is_empty() || gauge.never_certified.is_some() {
            continue;
        }
        let name = &gauge.name.value;
        let finding =
            Finding::advice(CHECK.page.code, gauge.name.span, format!("`{name}` states no certificate"))
                .help("add `certified 2026-02-01 for 12 months`, or `certified never because \"...\"`");
        findings.push(finding.about(name));
    }
}

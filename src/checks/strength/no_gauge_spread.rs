//! A gauge that does not say how well it repeats.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-gauge-spread",
        severity: Severity::Advice,
        what: "A gauge that rounds need does not say how well it repeats.",
        why: "Odd readings are then judged by the scatter of the readings themselves, and nobody can say \
              beforehand which difference the plan tells apart.",
        mend: "Read one spot ten times with the gauge lifted in between, and write its standard deviation as \
               `spread 0.15 GU`, or take `two readings agree within 0.4 GU` from its papers.",
        bad: "gauge glossy\n    reads       gloss-20\n    certified   2026-02-01 for 12 months\n",
        good: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
               certified   2026-02-01 for 12 months\n",
        source: "ISO 5725-6:1994, clause 4.1",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for gauge in study.gauges.iter().filter(|gauge| !gauge.broken && gauge.agreement.is_none()) {
        let used = gauge
            .reads
            .iter()
            .any(|read| study.rounds_with_ids().any(|(id, _)| study.planned_readings(id, read.value) > 0));
        if used {
            let name = &gauge.name.value;
            let message = format!("`{name}` does not say how well it repeats");
            let finding = Finding::advice(CHECK.page.code, gauge.name.span, message)
                .help("add `two readings agree within ...` or `spread ...` with its unit");
            findings.push(finding.about(name));
        }
    }
}

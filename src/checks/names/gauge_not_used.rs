//! Gauges that read nothing.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "gauge-not-used",
        severity: Severity::Advice,
        what: "A gauge does not say what it reads.",
        why: "Its repeatability and certificate are not counted for any measure.",
        mend: "Write `reads` and the measures under the gauge, or take it out.",
        bad: "gauge pen
    foot        20 x 20 mm
",
        good: "gauge pen
    reads       film
    foot        20 x 20 mm
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for gauge in context.study.gauges.iter().filter(|gauge| gauge.reads.is_empty() && !gauge.broken) {
        let name = &gauge.name.value;
        findings.push(
            Finding::advice(CHECK.page.code, gauge.name.span, format!("`{name}` does not say what it reads"))
                .help("write `reads` and the names of its measures under it, or take the gauge out")
                .about(name),
        );
    }
}

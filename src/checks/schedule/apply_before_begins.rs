//! Work that is dated before the study begins.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "apply-before-begins",
        severity: Severity::Warning,
        what: "The day of application lies before the day on which the study begins.",
        why: "One of the two dates is a slip, and every round that counts from apply inherits it.",
        mend: "Correct `begins` under `study`, or `on` under `apply`.",
        bad: "apply\n    on          2026-02-27 from 09:00\n    surface     at least 3 degC above dew point\n--- date 2026-02-20\n",
        good: "apply\n    on          2026-03-03 from 09:00\n    surface     at least 3 degC above dew point\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let on = study.apply.as_ref().and_then(|apply| apply.on.as_ref());
    let (Some(on), Some(begins)) = (on, study.begins.as_ref()) else { return };
    if on.value >= begins.value {
        return;
    }
    let message = format!("products go on on {}, and the study begins on {}", on.value, begins.value);
    let finding = Finding::warning(CHECK.page.code, on.span, message)
        .related(begins.span, "the study begins")
        .help("correct one of the two dates");
    findings.push(finding.about("apply").about("study"));
}

//! A panel that comes in before it goes out.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Exposure;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "brought-in-before-put-out",
        severity: Severity::Warning,
        what: "The day on which the panel is brought in lies before the day on which it is put out.",
        why: "One of the two dates is a slip, mostly in the year, and the time outdoors that the report states \
              would be none.",
        mend: "Correct `put out` or `brought in` under `exposure`.",
        bad: "exposure \"Test yard\"\n    put out     2026-03-12\n    brought in  2026-03-02\n",
        good: "exposure \"Test yard\"\n    put out     2026-03-12\n    brought in  2027-03-02\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for exposure in &context.study.exposures {
        early(exposure, findings);
    }
}

fn early(exposure: &Exposure, findings: &mut Vec<Finding>) {
    let (Some(put_out), Some(brought_in)) = (&exposure.put_out, &exposure.brought_in) else { return };
    if brought_in.value >= put_out.value {
        return;
    }
    let message =
        format!("the panel is brought in on {}, and put out on {}", brought_in.value, put_out.value);
    let finding = Finding::warning(CHECK.page.code, brought_in.span, message)
        .related(put_out.span, "it goes out")
        .help("correct one of the two dates");
    findings.push(finding.about("exposure"));
}

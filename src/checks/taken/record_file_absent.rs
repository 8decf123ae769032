//! A record file that is not there although products have gone on.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "record-file-absent",
        severity: Severity::Warning,
        what: "A record file that the study names is not there, and the day of `apply` is over. Before that day nothing is said.",
        why: "The report would print the plan with no record beside it, and rounds would count from planned days.",
        mend: "Correct the name, or put the file beside the study. `print` writes an empty one to begin with.",
        bad: "record \"log.csv\"\n--- date 2026-03-04\n--- readings.csv\ndate,round,section,measure,value\n",
        good: "record \"log.csv\"\n--- date 2026-03-02\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let day = study.apply.as_ref().and_then(|apply| apply.on.as_ref()).map(|on| on.value);
    let Some(day) = day.filter(|day| context.is_over(*day)) else { return };
    for record in study.records.iter().filter(|record| record.file.is_none()) {
        let message = format!("`{}` is not there, and products were to go on on {day}", record.name.value);
        let finding = Finding::warning(CHECK.page.code, record.name.span, message)
            .help("correct the name, or put the file beside the study");
        findings.push(finding.about("record"));
    }
}

//! A climate file that is not there although products have gone on.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "climate-file-absent",
        severity: Severity::Warning,
        what: "A climate file that the study names is not there, and the day of `apply` is over. Before that day nothing is said.",
        why: "What products met while they went on, and what the panel met between rounds, would be left out of the report.",
        mend: "Correct the name, or put the file beside the study. A logger can often be read out once more.",
        bad: "climate \"climate.csv\"\n--- date 2026-03-04\n--- readings.csv\ndate,round,section,measure,value\n",
        good: "climate \"climate.csv\"\n--- date 2026-03-02\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let day = study.apply.as_ref().and_then(|apply| apply.on.as_ref()).map(|on| on.value);
    let Some(day) = day.filter(|day| context.is_over(*day)) else { return };
    for (file, climate) in study.climate.iter().zip(&context.readings.climate) {
        if climate.state.file.is_some() {
            continue;
        }
        let message = format!("`{}` is not there, and products went on on {day}", file.name.value);
        let finding = Finding::warning(CHECK.page.code, file.name.span, message)
            .help("correct the name, or put the file beside the study");
        findings.push(finding.about("climate"));
    }
}

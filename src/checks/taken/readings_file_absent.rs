//! A readings file that is not there although its first round is over.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "readings-file-absent",
        severity: Severity::Error,
        what: "A readings file that the study names is not there, and the last day of the first round is over. \
               Before that day nothing is said.",
        why: "Either the name is wrong, so that readings which were taken would be left out, or a round was missed.",
        mend: "Correct the name, or put the file beside the study. `print` writes an empty sheet with this name.",
        bad: "--- date 2026-04-01\n",
        good: "--- date 2026-03-01\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let dated = study.rounds.iter().filter(|round| !round.reads.is_empty());
    let first = dated.filter_map(|round| Some((round.window?, round))).min_by_key(|(window, _)| window.last);
    let Some((window, round)) = first.filter(|(window, _)| context.is_over(window.last)) else { return };
    for (file, state) in study.readings.iter().zip(&context.readings.files) {
        if state.file.is_some() {
            continue;
        }
        let message = format!(
            "`{}` is not there, and `{}` was to be read by {}",
            file.name.value, round.name.value, window.last
        );
        let finding = Finding::error(CHECK.page.code, file.name.span, message)
            .related(round.name.span, "the first round")
            .help("correct the name, or put the file beside the study")
            .binding();
        findings.push(finding.about("readings").about(&round.name.value));
    }
}

//! Rounds that are due in a study that names no file of readings.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-readings-block",
        severity: Severity::Advice,
        what: "The last day of the first round is over, and the study has no `readings` block. Before that day \
               nothing is said.",
        why: "Readings that are not named are not read: the report would stay a plan for ever, and no missed round \
              would be told.",
        mend: "Write `readings \"readings.csv\"`, with the name of the file beside the study.",
        bad: WITHOUT,
        good: "--- date 2026-03-01\n",
        source: "common practice, no source",
    },
    run,
};

const WITHOUT: &str = "whole\nstudy \"Two sprays\"\n    begins      2026-03-02\nsurface panel\n    \
    size        880 x 580 mm\nproduct bay \"Bay seal\", a spray sealant\nmap  sections 166 x 116 mm  gap 18 mm\n    \
    | bay bare |\n    | bare bay |\nrounds\n    baseline    before apply          gloss-20 5 times\n    \
    month 3     within 3 days         gloss-20 5 times\n--- date 2026-05-01\n";

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.readings_blocks > 0 || study.rounds_broken {
        return;
    }
    let dated = study.rounds.iter().filter(|round| !round.reads.is_empty());
    let first = dated.filter_map(|round| Some((round.window?, round))).min_by_key(|(window, _)| window.last);
    let Some((window, round)) = first.filter(|(window, _)| context.is_over(window.last)) else { return };
    let name = &round.name.value;
    let message =
        format!("`{name}` was to be read by {}, and the study names no file of readings", window.last);
    let sheet = format!("sheet-{}.csv", name.replace(' ', "-"));
    let finding = Finding::advice(CHECK.page.code, round.name.span, message).help(format!(
        "write `readings \"...\"` at the left margin, with the name of your file; an empty one is what `print --sheet` \
         writes for the round, and `readings \"{sheet}\"` reads that"
    ));
    findings.push(finding.about(name).about("readings"));
}

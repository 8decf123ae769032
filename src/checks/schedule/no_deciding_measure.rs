//! A study that does not say beforehand which measure and round decide it.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-deciding-measure",
        severity: Severity::Advice,
        what: "The study has rounds and measures, and no `decide by`.",
        why: "Whoever looks at every measure of every round finds a winner somewhere by chance. A question \
              that was fixed beforehand is answered at 5 % by itself; without one, all answers share the 5 % \
              and each of them needs a larger difference.",
        mend: "Write `decide by gloss-20 at month 18` under `study`, before the first reading.",
        bad: "study \"Three sealers\"\n    author      \"Frame bench\"\n    begins      2026-03-02\n    \
              bought unless said\n",
        good: "study \"Three sealers\"\n    author      \"Frame bench\"\n    begins      2026-03-02\n    \
               decide by   gloss-20 at month 3\n    bought unless said\n",
        source: "Holm (1979), Scandinavian Journal of Statistics 6, 65-70, for the further looks",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(last) = study.last_round() else { return };
    if study.decide.is_some() || study.rounds_broken {
        return;
    }
    let read = study.judged_measures().find(|&(id, _)| study.planned_readings(last, id) > 0);
    let Some((_, measure)) = read else { return };
    let finding = Finding::advice(
        CHECK.page.code,
        study.title.span,
        "the study does not say which measure and round decide it",
    );
    let help = format!(
        "write `decide by {} at {}` under `study`, or another measure and round, before the first reading",
        measure.name.value,
        study.round(last).name.value
    );
    findings.push(finding.help(help).about("study"));
}

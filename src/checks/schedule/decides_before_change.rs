//! The round that decides lies no later than the one that changes count from.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Reference;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "decides-before-change",
        severity: Severity::Error,
        what: "`decide by` names the round that changes count from, or one before it.",
        why: "What decides is how much a section has changed since that round. At that round itself every change \
              is nothing, so the question is never answered.",
        mend: "Decide by a later round. Where the reading on fresh products is the answer, let the measure count \
               from before them: `change from baseline`.",
        bad: "study \"Three sealers\"\n    author      \"Frame bench\"\n    begins      2026-03-02\n    \
              decide by   gloss-20 at fresh\n    bought unless said\n",
        good: "study \"Three sealers\"\n    author      \"Frame bench\"\n    begins      2026-03-02\n    \
               decide by   gloss-20 at month 3\n    bought unless said\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(decide) = study.decide.as_ref().filter(|_| !study.rounds_broken) else { return };
    let (Some(measure), Some(id)) = (decide.measure, decide.round) else { return };
    let measure = study.measure(measure);
    let from = match measure.change_from {
        Reference::Baseline => "baseline",
        Reference::Fresh => "fresh",
    };
    let Some(reference) = study.round_named(from).filter(|_| !measure.broken) else { return };
    let (round, reference_round) = (study.round(id), study.round(reference));
    let name = &round.name.value;
    let message = if id == reference {
        format!("`{name}` is the round that changes count from")
    } else if round.date().zip(reference_round.date()).is_some_and(|(own, from)| own < from) {
        format!("`{name}` lies before `{from}`, the round that changes count from")
    } else {
        return;
    };
    let finding = Finding::error(CHECK.page.code, decide.span, message)
        .related(reference_round.span, "changes count from here")
        .help("decide by a later one");
    let finding = if from == "fresh" && name != "baseline" {
        finding.help(format!("or write `change from baseline` under `measure {}`", measure.name.value))
    } else {
        finding
    };
    findings.push(finding.about(name).about("study"));
}

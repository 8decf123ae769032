//! The measure and the round that decide are not read together.

use crate::checks::names::measure_not_read::is_read;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "deciding-round-missing",
        severity: Severity::Error,
        what: "`decide by` names a measure and a round, and that round does not read that measure.",
        why: "The answer of the study rests on these readings, and nobody will take them.",
        mend: "Let the round read the measure, or decide by a measure that it reads.",
        bad: "rounds\n    baseline    after wipe                              gloss-20 5 times\n    \
              fresh       8 days after apply  within 1 day        gloss-20 5 times\n    \
              month 3     within 3 days                           film 3 times\n\
              measure film in um\n    change from baseline\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(decide) = study.decide.as_ref().filter(|_| !study.rounds_broken) else { return };
    // A name that could not be bound has a finding of its own.
    let (Some(measure), Some(round)) = (decide.measure, decide.round) else { return };
    if study.planned_readings(round, measure) > 0 {
        return;
    }
    let everywhere = !is_read(study, measure);
    let (round, measure) = (&study.round(round).name, &study.measure(measure).name.value);
    let message = format!("`{}` decides the study by `{measure}`, and does not read it", round.value);
    let help = if everywhere {
        format!("no round reads it: write `every round {measure} 5 times` under `rounds`")
    } else {
        format!("write `{measure} 5 times` in the line of `{}`, or decide by what it reads", round.value)
    };
    let finding = Finding::error(CHECK.page.code, decide.span, message)
        .related(round.span, format!("reads no `{measure}`"))
        .help(help);
    findings.push(finding.about(&round.value).about("study"));
}

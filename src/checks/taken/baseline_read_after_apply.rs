//! Baseline readings that are dated after the first coat.

use super::strays::{Strays, first_coat_day, strays};
use super::telling;
use crate::checks::schedule::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Round, RoundId};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "baseline-read-after-apply",
        severity: Severity::Warning,
        what: "Readings of a round before apply carry a day after the first coat; the record of the first coat \
               counts, else the plan.",
        why: "Read over a coat, a baseline shows product and place together, and no change can be counted from it.",
        mend: "Correct the day or the round in the readings file, or the day of apply in the study.",
        bad: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-06,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (id, round) in context.study.rounds_with_ids() {
        findings.extend(late(context, id, round));
    }
}

fn late(context: &Context<'_>, id: RoundId, round: &Round) -> Option<Finding> {
    let study = context.study;
    let coat = first_coat_day(study)?;
    if when::before_apply(study, round) != Some(true) {
        return None;
    }
    let Strays { sections, days, place, .. } =
        strays(context.readings, id, |_, day| day > coat && !context.is_to_come(day))?;
    let name = &round.name.value;
    let message = format!(
        "{} {} read {} for `{name}`, when the first coat of {coat} was on",
        telling::sections(study, &sections),
        telling::was(&sections),
        telling::days(days)
    );
    let finding = Finding::warning(CHECK.page.code, place, message)
        .help("correct the day or the round of these rows, or the day of apply");
    Some(finding.about(name).about("apply"))
}

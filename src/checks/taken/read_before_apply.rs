//! Readings of coated sections that are dated before the first coat.

use super::strays::{Strays, first_coat_day, strays};
use super::telling;
use crate::checks::schedule::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Round, RoundId};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-before-apply",
        severity: Severity::Warning,
        what: "Readings of a round after apply carry a day before the first coat; the record of the first coat \
               counts, else the plan.",
        why: "What was read on that day was not coated, so the reading belongs to another round or the day is a slip.",
        mend: "Correct the day or the round in the readings file, or the day of apply in the study.",
        bad: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-02,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        good: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-11,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (id, round) in context.study.rounds_with_ids() {
        findings.extend(early(context, id, round));
    }
}

fn early(context: &Context<'_>, id: RoundId, round: &Round) -> Option<Finding> {
    let study = context.study;
    let coat = first_coat_day(study)?;
    if when::before_apply(study, round) != Some(false) {
        return None;
    }
    let Strays { sections, days, place, .. } = strays(context.readings, id, |_, day| day < coat)?;
    let name = &round.name.value;
    let message = format!(
        "{} {} read {} for `{name}`, and the first coat went on on {coat}",
        telling::sections(study, &sections),
        telling::was(&sections),
        telling::days(days)
    );
    let finding = Finding::warning(CHECK.page.code, place, message)
        .help("correct the day or the round of these rows, or the day of apply");
    Some(finding.about(name).about("apply"))
}

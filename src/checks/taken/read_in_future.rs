//! Readings with a day that has not come yet.

use super::strays::{Strays, strays};
use super::telling;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-in-future",
        severity: Severity::Warning,
        what: "Readings carry a day that has not come yet. With `--as-of` they are passed over without a word.",
        why: "The day is a slip, mostly in the year or with month and day swapped, and everything that counts \
              time from it is wrong.",
        mend: "Correct the day in the readings file.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2027-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let Some(today) = context.today else { return };
    for (id, round) in context.study.rounds_with_ids() {
        let odd = |_, day| day > today;
        let Some(Strays { sections, days, place, .. }) = strays(context.readings, id, odd) else { continue };
        let name = &round.name.value;
        let message = format!(
            "{} {} read {} for `{name}`, and today is {today}",
            telling::sections(context.study, &sections),
            telling::was(&sections),
            telling::days(days)
        );
        let finding = Finding::warning(CHECK.page.code, place, message).help("correct the day of these rows");
        findings.push(finding.about(name));
    }
}

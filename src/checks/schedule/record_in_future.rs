//! Records of work that carry a day which has not come yet.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "record-in-future",
        severity: Severity::Warning,
        what: "A `log` or `done` line, or a row of a record file, carries a day that has not come yet. With `--as-of` such a line is passed over without a word.",
        why: "The day is a slip, mostly in the year, and what counts time from it, as the window of the next coat, is wrong.",
        mend: "Correct the day of the line.",
        bad: "done 2052-03-03 10:00  coat 1 of bay\n--- date 2026-03-03\n",
        good: "done 2026-03-03 10:00  coat 1 of bay\n--- date 2026-03-03\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, Some(today)) = (context.study, context.today) else { return };
    let done = study.done.iter().map(|done| ("done", done.date.value, done.date_place()));
    let log = study.log.iter().map(|entry| ("log", entry.date.value, entry.date.span.into()));
    let mut late: Vec<(&str, Date, Place)> = done.chain(log).filter(|(_, date, _)| *date > today).collect();
    late.sort_by_key(|&(_, _, place)| (place.file, place.span.start));
    let Some(&(word, date, place)) = late.first() else { return };
    let message = format!("`{word}` is dated {date}, and the study is looked at as of {today}");
    let finding = Finding::warning(CHECK.page.code, place, message).help("correct the day").about(word);
    let more = late.iter().skip(1);
    findings.push(more.fold(finding, |finding, &(_, _, place)| finding.related(place, "this one as well")));
}

//! Records of work and incidents that are dated before the study begins.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "record-before-begins",
        severity: Severity::Warning,
        what: "A `log` or `done` line, or a row of a record file, carries a day before the one on which the study begins.",
        why: "One of the two dates is a slip, mostly in the year. What ended a section would then have ended it \
              before it was there, and what was done would move every round that counts from it.",
        mend: "Correct the day of the line, or `begins` under `study`.",
        bad: "log 2025-04-14 C3 \"hail\"\n",
        good: "log 2026-04-14 C3 \"hail\"\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(begins) = study.begins.as_ref() else { return };
    // A day of apply before the study is said once, and the records of that day are right with it.
    let apply = study.apply.as_ref().and_then(|apply| apply.on.as_ref());
    if apply.is_some_and(|on| on.value < begins.value) {
        return;
    }
    let done = study.done.iter().map(|done| ("done", done.date.value, done.date_place()));
    let log = study.log.iter().map(|entry| ("log", entry.date.value, entry.date.span.into()));
    let mut early: Vec<(&str, Date, Place)> =
        done.chain(log).filter(|(_, date, _)| *date < begins.value).collect();
    early.sort_by_key(|&(_, _, place)| (place.file, place.span.start));
    let Some(&(word, date, place)) = early.first() else { return };
    let message = format!("`{word}` is dated {date}, and the study begins on {}", begins.value);
    let finding = Finding::warning(CHECK.page.code, place, message)
        .related(begins.span, "the study begins")
        .help("correct one of the two dates")
        .about(word)
        .about("study");
    let more = early.iter().skip(1);
    findings.push(more.fold(finding, |finding, &(_, _, place)| finding.related(place, "this one as well")));
}

//! Readings of a section after an incident that ended it.

use super::strays::Strays;
use super::telling;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::Readings;
use crate::study::{LogEntry, SectionId};
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "section-read-after-its-end",
        severity: Severity::Warning,
        what: "Readings carry a day after the log ended their section.",
        why: "A section that was ended is no longer what it was; readings after that day are not compared.",
        mend: "Correct the section or the day of these rows, or the section or the day in the log.",
        bad: "log  2026-03-06 A1     \"chipped by a ladder\" ends the section\n\
              --- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-11,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        good: "log  2026-03-06 A1     \"chipped by a ladder\" ends the section\n\
               --- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-11,fresh,A2,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for entry in study.log.iter().filter(|entry| entry.ends) {
        let Some(Strays { sections, days, place, .. }) = after(context.readings, entry) else { continue };
        let message = format!(
            "{} {} read {}, and the log ended {} on {}",
            telling::sections(study, &sections),
            telling::was(&sections),
            telling::days(days),
            if sections.len() == 1 { "it" } else { "them" },
            entry.date.value
        );
        let finding = Finding::warning(CHECK.page.code, place, message)
            .related(entry.span, "ends here")
            .help("correct the section or the day of these rows, or the line of the log");
        let codes = sections.iter().map(|&id| study.section(id).code.as_str());
        findings.push(codes.fold(finding, Finding::about));
    }
}

fn after(readings: &Readings, entry: &LogEntry) -> Option<Strays> {
    let cells = readings.cells().iter().filter(|cell| entry.reach.includes(cell.section));
    let late = cells.flat_map(|cell| {
        let late = readings.of(cell).filter(|reading| reading.date.is_some_and(|day| day > entry.date.value));
        late.map(|reading| (cell.section, reading))
    });
    let late: Vec<_> = late.filter(|(_, reading)| reading.value.number().is_some()).collect();
    let sections: BTreeSet<SectionId> = late.iter().map(|&(section, _)| section).collect();
    let days = telling::ends(late.iter().filter_map(|(_, reading)| reading.date))?;
    let place = late.iter().map(|(_, reading)| reading.place).min()?;
    Some(Strays { sections, days, place, notes: BTreeSet::new(), unsaid: true })
}

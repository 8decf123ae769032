//! Readings that were taken earlier or later than their round allows.

use super::strays::{Strays, first_coat_day, strays};
use super::telling;
use crate::checks::schedule::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Round, RoundId, SectionId, SiteId, Window};
use jiff::civil::Date;
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-outside-window",
        severity: Severity::Warning,
        what: "Readings of a round carry a day before the first or after the last day of its window.",
        why: "A product that is read two weeks later than another has worn two weeks longer. The report lists \
              such sections.",
        mend: "If the day was typed wrong, correct it in the readings file. If it is right, leave it, and say why in a \
               column `note` of the row or in a waiver.",
        bad: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-18,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        good: "--- date 2026-04-01\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-11,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for (id, round) in context.study.rounds_with_ids() {
        findings.extend(outside(context, id, round));
    }
}

fn outside(context: &Context<'_>, id: RoundId, round: &Round) -> Option<Finding> {
    let window = round.window?;
    let study = context.study;
    let side = when::before_apply(study, round);
    let coat = first_coat_day(study);
    // On the wrong side of the first coat, and in the future, the same day has a graver finding.
    let graver = |day: Date| {
        context.is_to_come(day)
            || coat
                .is_some_and(|coat| (side == Some(true) && day > coat) || (side == Some(false) && day < coat))
    };
    let odd = |section: SectionId, day: Date| {
        let window = round.window_at(study.section(section).site).unwrap_or(window);
        (day < window.first || day > window.last) && !graver(day)
    };
    let Strays { sections, days, place, notes, unsaid } = strays(context.readings, id, odd)?;
    let name = &round.name.value;
    let planned = |window: Window| {
        if window.first == window.last {
            format!("{}", window.date)
        } else {
            format!("{} to {}", window.first, window.last)
        }
    };
    let at_site = |(site, window): &(SiteId, Window)| {
        format!("{} at `{}`", planned(*window), study.sites[site.index()].value)
    };
    let at_sites: Vec<String> = round.at_sites.iter().map(at_site).collect();
    let planned = if at_sites.is_empty() { planned(window) } else { list(&at_sites, "and") };
    let message = format!(
        "{} {} read {} for `{name}`, which is planned for {planned}{}",
        telling::sections(study, &sections),
        telling::was(&sections),
        telling::days(days),
        noted(&notes)
    );
    // Whoever wrote down why is not asked again.
    let help = if unsaid {
        "correct the day if it was typed wrong, else say why in a column `note` or in a waiver"
    } else {
        "correct the day if it was typed wrong; the note stands in the report, and a waiver ends this finding"
    };
    let finding =
        Finding::warning(CHECK.page.code, place, message).related(round.name.span, "the round").help(help);
    Some(finding.about(name))
}

/// What the rows themselves say of it, up to some few remarks.
fn noted(notes: &BTreeSet<String>) -> String {
    const FEW: usize = 3;
    let told: Vec<String> = notes.iter().take(FEW).map(|note| format!("\"{note}\"")).collect();
    match (told.len(), notes.len().saturating_sub(FEW)) {
        (0, _) => String::new(),
        (1, _) => format!("; the note says {}", told.concat()),
        (_, 0) => format!("; the notes say {}", list(&told, "and")),
        (_, more) => format!("; the notes say {}, and {more} more", told.join(", ")),
    }
}

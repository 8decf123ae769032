//! Film below the least that was to be left.

use super::film::Film;
use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-below-limit",
        severity: Severity::Warning,
        what: "A section was read with less film than is to be left.",
        why: "What is left is thinner than was wanted; how it weathers tells of that as well.",
        mend: "Do not cut it any more. Read the place again, log it, and end the section where the limit matters.",
        bad: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 120 um
    leave       at least 95 um
measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
rounds
    baseline    after wipe   film 3 times
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-03,baseline,A1,film,um,93,94,92
2026-03-03,baseline,A2,film,um,99,98,97
",
        good: "surface panel
    material    clearcoat on steel
    size        880 x 580 mm
    film        100 to 120 um
    leave       at least 95 um
measure film in um
    neither is better
gauge probe
    reads       film
    spot        10 mm across
    two readings agree within 3 um
    certified   2026-02-01 for 12 months
rounds
    baseline    after wipe   film 3 times
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
--- date 2026-03-04
--- readings.csv
date,round,section,measure,unit,1,2,3
2026-03-03,baseline,A1,film,um,98,99,97
2026-03-03,baseline,A2,film,um,99,98,97
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let (Some(film), Some(leave)) = (Film::of(context), study.surface.leave) else { return };
    for (id, round) in study.rounds_with_ids() {
        let below: Vec<&str> = film
            .means_um(context, id)
            .into_iter()
            .filter(|(_, mean)| *mean < leave.mm() * 1000.0 - 1e-9)
            .map(|(section, _)| study.section(section).code.as_str())
            .collect();
        if below.is_empty() {
            continue;
        }
        let message = format!(
            "{} {} less than {leave} of film at `{}`",
            list(&below, "and"),
            if below.len() == 1 { "has" } else { "have" },
            round.name.value
        );
        let finding = Finding::warning(CHECK.page.code, round.name.span, message)
            .help("no further `compound` or `polish` there; read the places again and `log` what is so")
            .about(&round.name.value);
        findings.push(below.into_iter().fold(finding, Finding::about));
    }
}

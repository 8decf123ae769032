//! Film below the least that was to be left.

use super::film::{Film, um};
use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Place, Severity, count};
use crate::readings::{Apart, ApartCell};
use std::collections::BTreeMap;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "film-below-limit",
        severity: Severity::Warning,
        what: "A section, or a place of the panel at a `read` step of the preparation, was read with less film than is to be left.",
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
    let (least_um, asked) = (leave.mm() * 1000.0, leave.to_string());
    let of_prep = context.readings.apart().iter().filter(|apart| apart.measure() == film.measure());
    findings.extend(of_prep.filter_map(|apart| below_in_prep(context, apart, least_um, &asked)));
    for (id, round) in study.rounds_with_ids() {
        let below: Vec<&str> = film
            .means_um(context, id)
            .into_iter()
            .filter(|(_, mean)| *mean < least_um - SLACK_UM)
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

/// What a turn from one unit into another may be off by, um.
const SLACK_UM: f64 = 1e-9;

/// The places of a `read` step that have less, at the line of the file where the first of them stands.
fn below_in_prep(context: &Context<'_>, apart: &ApartCell, least_um: f64, asked: &str) -> Option<Finding> {
    let Apart::Prep(step) = apart.at else { return None };
    let mut places: BTreeMap<u32, (f64, f64, Place)> = BTreeMap::new();
    for reading in context.readings.of_apart(apart).filter(|reading| reading.left_out.is_none()) {
        let Some(value) = reading.value.number() else { continue };
        let (sum, n, _) = places.entry(reading.number).or_insert((0.0, 0.0, reading.place));
        (*sum, *n) = (*sum + value, *n + 1.0);
    }
    let all = places.len();
    let mut below: Vec<(f64, Place)> = places.into_values().map(|(sum, n, place)| (sum / n, place)).collect();
    below.retain(|(mean, _)| *mean < least_um - SLACK_UM);
    let thinnest = below.iter().map(|(mean, _)| *mean).reduce(f64::min)?;
    let &(_, first) = below.first()?;
    let name = format!("prep {}", step + 1);
    let message = format!(
        "{} of {} of `{name}` {} less than {asked} of film, down to {}",
        below.len(),
        count(all, "place"),
        if below.len() == 1 { "has" } else { "have" },
        um(thinnest)
    );
    Some(
        Finding::warning(CHECK.page.code, first, message)
            .help("no further `compound` or `polish` there; read the places again and `log` what is so")
            .about(&name)
            .about("prep"),
    )
}

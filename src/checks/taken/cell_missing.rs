//! Sections without a reading in a round that was read.

use super::telling;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::readings::{Cell, Readings};
use crate::study::{MeasureId, RoundId, Section, SectionId, Study, Treatment};
use std::collections::{BTreeMap, BTreeSet};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "cell-missing",
        severity: Severity::Warning,
        what: "A round has readings, its last day is over, and sections have none of a measure that it reads. \
               Sections that an incident ended before the round are not asked for.",
        why: "A product that lacks a section at one round is compared on other places than before, and the report \
              has to name it.",
        mend: "Type in what is missing, write `n/a` where it was not taken, or end the section in the log: \
               `log 2026-05-02 C3 \"chipped\" ends the section`.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "--- date 2026-03-03\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    for (id, round) in study.rounds_with_ids() {
        // While a round runs, sheets are still being typed in.
        let runs = round.window.is_some_and(|window| !context.is_over(window.last));
        if runs || study.rounds_broken || readings.has_unread_file() || !readings.has_round(id) {
            continue;
        }
        let missing = missing(study, readings, id);
        // Rows whose section is not known, or has a row already, may be those that lack; they are told as that.
        let lacking: BTreeSet<SectionId> = missing.values().flatten().copied().collect();
        let doubled = readings.cells().iter().filter(|cell| cell.round == id && cell.doubled > 0);
        if lacking.len() <= readings.refused_sections(id) + doubled.count() {
            continue;
        }
        for (measures, sections) in missing {
            findings.push(told(study, id, &measures, &sections));
        }
    }
}

/// Sections that lack the same measures, together.
fn missing(
    study: &Study,
    readings: &Readings,
    round: RoundId,
) -> BTreeMap<Vec<MeasureId>, BTreeSet<SectionId>> {
    let planned: BTreeSet<MeasureId> =
        study.round(round).reads.iter().map(|plan| plan.measure.value).collect();
    let mut missing: BTreeMap<Vec<MeasureId>, BTreeSet<SectionId>> = BTreeMap::new();
    let asked =
        |section: &Section| section.treatment != Treatment::Unknown && !study.is_one_too_many(section);
    for (section, place) in study.places().filter(|(_, section)| asked(section)) {
        // A row that says `n/a` is an answer; no row is none, and neither is one whose values are blank.
        let lacks = |&measure: &MeasureId| {
            study.measure(measure).home == place.specimen
                && readings.cell(section, round, measure).is_none_or(Cell::is_blank)
                && !readings.may_be_refused(section, round, measure)
        };
        let measures: Vec<MeasureId> = planned.iter().copied().filter(lacks).collect();
        if !measures.is_empty() && !ended(study, section, round) && !readings.stopped(study, section, round) {
            missing.entry(measures).or_default().insert(section);
        }
    }
    missing
}

/// Whether an incident ended the section before the last day of the round is over.
fn ended(study: &Study, section: SectionId, round: RoundId) -> bool {
    let last = study.round(round).window.map(|window| window.last);
    study.ended(section).zip(last).is_some_and(|(ended, last)| ended <= last)
}

fn told(study: &Study, round: RoundId, measures: &[MeasureId], sections: &BTreeSet<SectionId>) -> Finding {
    let names: Vec<String> =
        measures.iter().map(|&id| format!("`{}`", study.measure(id).name.value)).collect();
    let round = &study.round(round).name;
    let home = measures.first().map(|&id| study.places_of(id).count());
    let whole = home == Some(sections.len());
    let where_on = if whole { String::from("any section") } else { telling::sections(study, sections) };
    let message = format!("`{}` was read, and has no {} on {where_on}", round.value, list(&names, "or"));
    let mut finding = Finding::warning(CHECK.page.code, round.span, message)
        .help("type in what is missing, or write `n/a` where it was not taken")
        .about(&round.value);
    if let (1, Some(&section)) = (sections.len(), sections.first()) {
        finding = finding.about(&study.section(section).code);
    }
    finding
}

//! Cells with fewer readings than the round plans, but not without any.

use super::telling;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::readings::Apart;
use crate::study::{MeasureId, RoundId, SectionId};
use std::collections::{BTreeMap, BTreeSet};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "fewer-readings-than-planned",
        severity: Severity::Warning,
        what: "Sections have readings of a measure in a round, but fewer than the round plans. So have the \
               places of a `read` step of the preparation. Readings that the study leaves out with a reason count as taken, and `n/a` says of one that it was not.",
        why: "The mean of such a section is less sure than the others, and a critic asks where the missing \
              readings went.",
        mend: "Look on the paper sheet for readings that were not typed in. If they were not taken, \
               write `n/a` in their place.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,,\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    findings.extend(places_of_prep(context));
    let (study, readings) = (context.study, context.readings);
    let mut fewer: BTreeMap<(RoundId, MeasureId), (BTreeSet<SectionId>, u32)> = BTreeMap::new();
    for cell in readings.cells() {
        let taken = cell.taken + cell.below_gauge;
        // A cell without any reading is another finding.
        if study.rounds_broken || taken == 0 {
            continue;
        }
        // What the file says was not taken is not missing.
        if taken + cell.not_taken >= study.planned_readings(cell.round, cell.measure) {
            continue;
        }
        // A reading that could not be placed is not missing, and what is wrong with it is said.
        if readings.may_be_refused(cell.section, cell.round, cell.measure) {
            continue;
        }
        let entry = fewer.entry((cell.round, cell.measure)).or_insert((BTreeSet::new(), taken));
        entry.0.insert(cell.section);
        entry.1 = entry.1.min(taken);
    }
    for ((round, measure), (sections, least)) in fewer {
        let planned = study.planned_readings(round, measure);
        let (round, measure) = (&study.round(round).name, &study.measure(measure).name.value);
        let message = format!(
            "`{}` plans {} of `{measure}`, and as few as {least} stand on {}",
            round.value,
            count(planned as usize, "reading"),
            telling::sections(study, &sections)
        );
        let finding = Finding::warning(CHECK.page.code, round.span, message)
            .help("type in what is missing, or write `n/a` where it was not taken");
        findings.push(finding.about(&round.value).about(measure));
    }
}

/// The `read` steps of the preparation of which fewer places were read than planned.
fn places_of_prep(context: &Context<'_>) -> Vec<Finding> {
    let (study, readings) = (context.study, context.readings);
    // Rows that could not be placed may be these readings; what is wrong with them is said.
    if study.prep_broken || readings.files.iter().any(|state| state.refused > 0) {
        return Vec::new();
    }
    let mut read: BTreeMap<(usize, MeasureId), BTreeSet<u32>> = BTreeMap::new();
    for apart in readings.apart() {
        if let Apart::Prep(step) = apart.at {
            // What the file says was not taken is not missing.
            let numbers = readings.of_apart(apart).map(|reading| reading.number);
            read.entry((step, apart.measure())).or_default().extend(numbers);
        }
    }
    let steps = study.prep.iter().filter_map(|step| Some((step, step.measure.as_ref()?.value)));
    let fewer = steps.enumerate().filter_map(|(at, (step, measure))| {
        let planned = step.places? as usize;
        let taken = read.get(&(at, measure))?.len();
        if taken >= planned {
            return None;
        }
        let (name, measure) = (format!("prep {}", at + 1), &study.measure(measure).name.value);
        let message =
            format!("`{name}` plans {} of `{measure}`, and {taken} were read", count(planned, "place"));
        let finding = Finding::warning(CHECK.page.code, step.span, message)
            .help("type in what is missing, or write `n/a` where it was not taken");
        Some(finding.about("prep").about(measure))
    });
    fewer.collect()
}

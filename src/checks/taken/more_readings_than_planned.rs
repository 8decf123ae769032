//! Cells with more readings than the round plans.

use super::telling;
use crate::checks::names::measure_not_read::is_read;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity, count};
use crate::readings::Reading;
use crate::study::{MeasureId, RoundId, SectionId};
use std::collections::{BTreeMap, BTreeSet};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "more-readings-than-planned",
        severity: Severity::Warning,
        what: "Sections have more readings of a measure in a round than the round plans; readings that the study \
               leaves out do not count. Of several people who read the same sections each has the planned number.",
        why: "Readings that were repeated until they pleased bias a mean, and a row that was typed twice gives it \
              a weight that it does not have.",
        mend: "Remove rows that were typed twice. If more were taken on purpose, change the plan, or leave the \
               bad ones out with a reason.",
        bad: "rounds\n    baseline    after wipe                      gloss-20 3 times\n    \
              month 3     within 3 days                   gloss-20 3 times\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1\n",
        good: "rounds\n    baseline    after wipe                      gloss-20 3 times\n    \
               month 3     within 3 days                   gloss-20 3 times\n\
               --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0\n",
        source: "common practice, no source",
    },
    run,
};

/// The cells of one round and measure that have too many.
struct Surplus {
    sections: BTreeSet<SectionId>,
    most: u32,
    place: Place,
}

/// The most readings that one person took of a cell; `None` where a reading does not say whose it is.
fn most_of_a_hand<'r>(readings: impl Iterator<Item = Reading<'r>>) -> Option<u32> {
    let mut hands: BTreeMap<&str, u32> = BTreeMap::new();
    for reading in readings {
        *hands.entry(reading.by?).or_default() += 1;
    }
    hands.into_values().max()
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let mut surplus: BTreeMap<(RoundId, MeasureId), Surplus> = BTreeMap::new();
    for cell in readings.cells() {
        if study.rounds_broken || cell.count() <= study.planned_readings(cell.round, cell.measure) {
            continue;
        }
        // Where no round reads the measure, that is the fault, and it is told of the study.
        if !is_read(study, cell.measure) {
            continue;
        }
        // Rows that give a number twice are told as that.
        if cell.count() - cell.doubled.min(cell.count()) <= study.planned_readings(cell.round, cell.measure) {
            continue;
        }
        // Each of several people is held to the plan alone.
        if most_of_a_hand(readings.of(cell))
            .is_some_and(|most| most <= study.planned_readings(cell.round, cell.measure))
        {
            continue;
        }
        let Some(place) = readings.of(cell).map(|reading| reading.place).min() else { continue };
        let entry = surplus.entry((cell.round, cell.measure)).or_insert(Surplus {
            sections: BTreeSet::new(),
            most: 0,
            place,
        });
        entry.sections.insert(cell.section);
        entry.most = entry.most.max(cell.count());
        entry.place = entry.place.min(place);
    }
    for ((round, measure), surplus) in surplus {
        let planned = study.planned_readings(round, measure);
        let (round, measure) = (&study.round(round).name, &study.measure(measure).name.value);
        let plan = if planned == 0 {
            format!("`{}` does not plan to read `{measure}`", round.value)
        } else {
            format!("`{}` plans {} of `{measure}`", round.value, count(planned as usize, "reading"))
        };
        let where_on = telling::sections(study, &surplus.sections);
        let message = format!("{plan}, and up to {} stand on {where_on}", surplus.most);
        let finding = Finding::warning(CHECK.page.code, surplus.place, message)
            .related(round.span, "the plan")
            .help("remove rows that were typed twice, or change the plan");
        findings.push(finding.about(&round.value).about(measure));
    }
}

//! Readings that name a gauge which the study does not declare, or which does not read the measure.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity, nearest};
use crate::study::{MeasureId, Study};
use std::collections::BTreeMap;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "gauge-not-declared",
        severity: Severity::Warning,
        what: "The gauge column of a readings file names a gauge that the study does not declare, or one that is \
               not said to read that measure.",
        why: "Without the gauge's spread and certificate its readings cannot be judged.",
        mend: "Correct the name in the readings file, or declare the gauge in the study.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,gauge,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,glosy,90.1,90.2,90.0,90.3,90.2\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,gauge,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,glossy,90.1,90.2,90.0,90.3,90.2\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let mut odd: BTreeMap<(&str, MeasureId), Place> = BTreeMap::new();
    for cell in readings.cells() {
        for name in readings.gauges(cell) {
            if fits(study, name, cell.measure) {
                continue;
            }
            let naming = readings.of(cell).filter(|reading| reading.gauge == Some(name));
            if let Some(place) = naming.map(|reading| reading.place).min() {
                let first = odd.entry((name, cell.measure)).or_insert(place);
                *first = (*first).min(place);
            }
        }
    }
    findings.extend(odd.into_iter().map(|((name, measure), place)| told(study, name, measure, place)));
}

/// Whether a gauge of this name reads the measure; one with a broken line may.
fn fits(study: &Study, name: &str, measure: MeasureId) -> bool {
    study.gauges.iter().any(|gauge| {
        gauge.name.value.eq_ignore_ascii_case(name)
            && (gauge.broken || gauge.reads.iter().any(|read| read.value == measure))
    })
}

fn told(study: &Study, name: &str, measure: MeasureId, place: Place) -> Finding {
    let measure = &study.measure(measure).name.value;
    let known = study.gauges.iter().find(|gauge| gauge.name.value.eq_ignore_ascii_case(name));
    let finding = if let Some(gauge) = known {
        let message = format!("`{measure}` was read with `{name}`, which is not said to read it");
        Finding::warning(CHECK.page.code, place, message)
            .related(gauge.name.span, "the gauge")
            .help(format!("add `{measure}` to its `reads` line, or correct the name"))
    } else {
        let message = format!("`{measure}` was read with `{name}`, and the study declares no such gauge");
        let near = nearest(name, study.gauges.iter().map(|gauge| gauge.name.value.as_str()));
        let help = near.map_or_else(
            || format!("declare it: `gauge {name}` with what it reads"),
            |near| format!("write `{near}`, if that is the one"),
        );
        Finding::warning(CHECK.page.code, place, message).help(help)
    };
    finding.about(name).about(measure)
}

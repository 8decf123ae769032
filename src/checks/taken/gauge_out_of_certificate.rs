//! Readings on days on which the gauge had no valid certificate.

use super::strays::first_coat_day;
use super::telling;
use crate::checks::schedule::when;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Place, Severity, list};
use crate::study::{Gauge, MeasureId, RoundId, Study};
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "gauge-out-of-certificate",
        severity: Severity::Warning,
        what: "Readings were taken on a day on which no stated certificate of the gauge was valid. Where a row \
               names no gauge and several read the measure, one valid certificate is enough.",
        why: "A gauge that has drifted moves every section alike and looks like wear.",
        mend: "Add the `certified` line of that time. If there was none, have the gauge checked now, and say in a \
               waiver what the check showed.",
        bad: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
              certified   2025-02-01 for 12 months\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        good: "gauge glossy\n    reads       gloss-20\n    two readings agree within 0.4 GU\n    \
               certified   2025-02-01 for 12 months\n    certified   2026-01-28 for 12 months\n\
               --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n",
        source: "ISO 10012:2003, clause 7.1",
    },
    run,
};

/// What one gauge read without a certificate.
struct Lapse {
    rounds: BTreeSet<RoundId>,
    days: BTreeSet<Date>,
    place: Place,
}

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let mut lapses: BTreeMap<usize, Lapse> = BTreeMap::new();
    let coated = first_coat_day(study);
    for cell in readings.cells() {
        let after = when::before_apply(study, study.round(cell.round)) == Some(false);
        for reading in readings.runs(cell) {
            // A day before the coat that was to be read is told as that, and may be a slip.
            let Some(day) = reading.date.filter(|&day| !after || coated.is_none_or(|coated| day >= coated))
            else {
                continue;
            };
            let Some(gauge) = lapsed(study, cell.measure, reading.gauge, day) else { continue };
            let entry = lapses.entry(gauge).or_insert(Lapse {
                rounds: BTreeSet::new(),
                days: BTreeSet::new(),
                place: reading.place,
            });
            entry.rounds.insert(cell.round);
            entry.days.insert(day);
            entry.place = entry.place.min(reading.place);
        }
    }
    for (gauge, lapse) in lapses {
        findings.extend(study.gauges.get(gauge).and_then(|gauge| told(study, gauge, &lapse)));
    }
}

/// The place in the list of the gauge that read without a certificate; `None` where one held, or none is stated at all.
fn lapsed(study: &Study, measure: MeasureId, named: Option<&str>, day: Date) -> Option<usize> {
    let reads = |gauge: &Gauge| match named {
        Some(name) => gauge.name.value.eq_ignore_ascii_case(name),
        None => gauge.reads.iter().any(|read| read.value == measure),
    };
    let able = || study.gauges.iter().enumerate().filter(|(_, gauge)| reads(gauge));
    if able().any(|(_, gauge)| gauge.broken || when::is_certified(gauge, day)) {
        return None;
    }
    able().find(|(_, gauge)| !gauge.certificates.is_empty()).map(|(at, _)| at)
}

fn told(study: &Study, gauge: &Gauge, lapse: &Lapse) -> Option<Finding> {
    let name = &gauge.name.value;
    let rounds: Vec<String> =
        lapse.rounds.iter().map(|&round| format!("`{}`", study.round(round).name.value)).collect();
    let days = telling::days(telling::ends(lapse.days.iter().copied())?);
    let message = format!("`{name}` read {} {days} without a valid certificate", list(&rounds, "and"));
    let mut finding = Finding::warning(CHECK.page.code, lapse.place, message)
        .help("add the `certified` line of that time, or say in a waiver what a check showed")
        .about(name);
    if let Some(certificate) = gauge.certificates.last() {
        let label = format!("valid until the day before {}", certificate.until);
        finding = finding.related(certificate.span, label);
    }
    Some(lapse.rounds.iter().fold(finding, |finding, &round| finding.about(&study.round(round).name.value)))
}

//! A reading below the gauge beside numbers that lie well above it.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::{Cell, Readings, Value};
use crate::stats::summary;
use crate::study::{MeasureKind, Study};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "below-gauge-beside-numbers",
        severity: Severity::Warning,
        what: "A reading of a section is below what the gauge can tell, as `<70`, and the other readings of the same section and round \
               are numbers that lie above that by more than two readings of the gauge differ.",
        why: "A section with such a reading has no mean, since nobody knows how far below it lies, and so it is in no comparison. One \
              slip of the pen takes all its numbers out of the answer.",
        mend: "Look on the sheet what the gauge showed. If it was below, leave the section as it is and say so in a waiver; if the \
               reading was spoilt, leave it out with the reason.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,<70,90.0,90.1,90.2\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.0,90.0,90.1,90.2\n",
        source: "ISO 5725-6:1994, clause 4.1, for how far two readings differ",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    for cell in readings.cells().iter().filter(|cell| cell.below_gauge > 0 && cell.kept.n > 0) {
        if !matches!(study.measure(cell.measure).kind, MeasureKind::Rating(_)) {
            findings.extend(told(study, readings, cell));
        }
    }
}

fn told(study: &Study, readings: &Readings, cell: &Cell) -> Option<Finding> {
    let middle = summary::median(&readings.values(cell))?;
    let differ = study.gauge_limit(cell.measure).unwrap_or(0.0);
    let kept = readings.of(cell).filter(|reading| reading.left_out.is_none());
    let (reading, below) = kept
        .filter_map(|reading| match reading.value {
            Value::BelowGauge(below) => Some((reading, below)),
            Value::Taken(_) | Value::NotTaken => None,
        })
        .find(|(_, below)| middle - below > differ)?;
    let measure = study.measure(cell.measure);
    let (name, unit) = (&measure.name.value, &measure.unit.behind());
    let (section, round) = (&study.section(cell.section).code, &study.round(cell.round).name.value);
    let (low, high) = (decimal(cell.kept.min), decimal(cell.kept.max));
    let numbers = if low == high { low } else { format!("{low} to {high}") };
    let message = format!(
        "`<{}` of `{name}` on `{section}` at `{round}` stands beside {numbers}{unit}, so that the section has no mean and is in no comparison",
        decimal(below)
    );
    Some(
        Finding::new(CHECK.page.code, CHECK.page.severity, reading.place, message)
            .help("look on the sheet what the gauge showed, and type that")
            .about(section)
            .about(round)
            .about(name),
    )
}

//! A reading so large that it is likely a slip of the keys: nothing on a panel is read in such numbers.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

/// In the unit of the measure, whatever it is.
const LARGEST: f64 = 1e9;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "reading-very-large",
        severity: Severity::Warning,
        what: "A reading lies beyond 1 000 000 000 of its unit, above or below zero. The first of each measure is named, \
               and how many there are.",
        why: "A slip of the keys, as a lost decimal mark, drags every mean that it is in, and a spread with it.",
        mend: "Look at the sheet of readings. Where the number is meant, state the measure in a larger unit.",
        bad: "measure uptake in g\n    lower is better\n\
              rounds\n    baseline after wipe\n    month 3 within 3 days\n    every round gloss-20 5 times, uptake once\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
              2026-03-02,baseline,A1,uptake,-1000000000000000\n",
        good: "measure uptake in g\n    lower is better\n\
               rounds\n    baseline after wipe\n    month 3 within 3 days\n    every round gloss-20 5 times, uptake once\n\
               --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
               2026-03-02,baseline,A1,uptake,1.5\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    for (id, measure) in study.measures_with_ids() {
        let cells = readings.cells().iter().filter(|cell| cell.measure == id);
        // The ends of a cell tell whether its readings need be looked at.
        let beyond = cells.filter(|cell| cell.kept.min.abs().max(cell.kept.max.abs()) > LARGEST);
        let mut large = beyond.flat_map(|cell| {
            let kept = readings.of(cell).filter(|reading| reading.left_out.is_none());
            let large = kept.filter_map(|reading| Some((reading.value.number()?, reading.place)));
            large.filter(|(value, _)| value.abs() > LARGEST)
        });
        let Some((value, place)) = large.next() else { continue };
        let (name, unit) = (&measure.name.value, &measure.unit.behind());
        let more = match large.count() {
            0 => String::new(),
            more => format!(", and {more} more like it"),
        };
        findings.push(
            Finding::warning(
                CHECK.page.code,
                place,
                format!("a reading of `{name}` is {}{unit}{more}; is that a slip?", decimal(value)),
            )
            .help("look at the sheet of readings; where it is meant, state the measure in a larger unit")
            .about(name),
        );
    }
}

//! A patch that met the rule of the cycle and was read again.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::readings::Cell;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-after-stop",
        severity: Severity::Warning,
        what: "A patch has readings of a cycle later than the one in which it met the `stop` of the study.",
        why: "By the plan it is neither marked nor cleaned again, and the report says so. Either the rule was not followed, or \
              it is not the one that was meant.",
        mend: "Correct the rule, as `stop a patch when shade is 4 or worse`, or the cycle of these rows; or say in a waiver why \
               work went on.",
        bad: BAD,
        good: GOOD,
        source: "common practice, no source",
    },
    run,
};

const BAD: &str = "surface panels
    each 500 x 300 mm
map rack 1 row of 4
    | bay  clove  cumin  bare |
marker spray \"Red spray\"
    leave 24 h
supply gel, a solvent wipe
    sheet \"gel.pdf\"
measure ghost, a rating 0 to 4
    lower is better
patches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm
    | spray+gel  spare |
cycle, up to 3 times
    mark   with its marker
    clean  with its cleaner, rinse
    read   ghost
    stop   a patch when ghost is 3 or worse
--- date 2026-04-10
--- readings.csv
date,round,section,measure,unit,1
2026-04-01,cycle 1,A1 / a1,ghost,marks,3
2026-04-02,cycle 2,A1 / a1,ghost,marks,4
";
const GOOD: &str = "surface panels
    each 500 x 300 mm
map rack 1 row of 4
    | bay  clove  cumin  bare |
marker spray \"Red spray\"
    leave 24 h
supply gel, a solvent wipe
    sheet \"gel.pdf\"
measure ghost, a rating 0 to 4
    lower is better
patches in each panel  size 90 x 90 mm  gap 20 mm  from left 20 mm, top 20 mm
    | spray+gel  spare |
cycle, up to 3 times
    mark   with its marker
    clean  with its cleaner, rinse
    read   ghost
    stop   a patch when ghost is 3 or worse
--- date 2026-04-10
--- readings.csv
date,round,section,measure,unit,1
2026-04-01,cycle 1,A1 / a1,ghost,marks,3
2026-04-02,cycle 2,A2 / a1,ghost,marks,4
";

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let Some(stop) = study.cycle.as_ref().and_then(|cycle| cycle.stop) else { return };
    let late = |cell: &&Cell| {
        study.cycle_of(cell.round).is_some()
            && cell.count() > 0
            && readings.stopped(study, cell.section, cell.round)
    };
    let late: Vec<&Cell> = readings.cells().iter().filter(late).collect();
    let Some(first) = late.first() else { return };
    let (place, round) = (&study.section(first.section).code, &study.round(first.round).name.value);
    let more = match late.len() - 1 {
        0 => String::new(),
        more => format!(", and {} more like it", count(more, "cell")),
    };
    let message = format!("`{place}` was read at `{round}` although it had met the rule for stopping{more}");
    let Some(at) = readings.of(first).map(|reading| reading.place).next() else { return };
    let finding = Finding::warning(CHECK.page.code, at, message)
        .related(stop.rule.span, "the rule")
        .help("correct the rule, or the cycle of these rows")
        .about("cycle");
    findings
        .push(late.iter().fold(finding, |finding, cell| finding.about(&study.section(cell.section).code)));
}

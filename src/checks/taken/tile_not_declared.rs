//! Readings of a reference tile where no gauge of the measure declares one.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::Apart;
use crate::study::Gauge;
use std::collections::BTreeSet;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "tile-not-declared",
        severity: Severity::Warning,
        what: "A readings file has readings of `tile`, and no gauge of that measure says what its tile is.",
        why: "Without the declared value, only a drift from round to round can be told, not whether the gauge reads true.",
        mend: "Give the gauge a line `tile` with the value that its certificate or its maker states.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
              2026-03-03,baseline,tile,gloss-20,91.2\n",
        good: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
               two readings agree within 0.4 GU\n    tile        91.2 GU\n    certified   2026-02-01 for 12 months\n\
               --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
               2026-03-03,baseline,tile,gloss-20,91.2\n",
        source: "ISO 2813:2014, standards that a glossmeter is checked with before each series",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let mut told = BTreeSet::new();
    for apart in readings.apart().iter().filter(|apart| matches!(apart.at, Apart::Tile(_))) {
        let id = apart.measure();
        let value = |gauge: &Gauge| gauge.tile.and_then(|tile| tile.value_for(study.measure(id)));
        let declared = study.gauges_of(id).any(|gauge| value(gauge).is_some() || gauge.broken);
        let Some(first) = readings.of_apart(apart).next() else { continue };
        if declared || !told.insert(id) {
            continue;
        }
        let name = &study.measure(id).name.value;
        let finding =
            Finding::warning(CHECK.page.code, first.place, format!("no gauge of `{name}` declares a tile"));
        let gauge = study.gauges_of(id).next();
        let finding = match gauge {
            Some(gauge) => {
                finding.related(gauge.name.span, "the gauge").help("add `tile` and its value to the gauge")
            }
            None => finding.help(format!("declare the gauge that reads `{name}`, with its `tile`")),
        };
        findings.push(finding.about(name));
    }
}

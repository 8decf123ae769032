//! Gauges whose measuring spot is larger than the housing that it lies in.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Footprint, Gauge};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spot-larger-than-foot",
        severity: Severity::Warning,
        what: "The measuring spot of a gauge is larger than the foot of its housing.",
        why: "A gauge reads through its foot, so the two were exchanged or one of them is a slip. Sections are \
              checked against the foot, and would be found large enough for a gauge that does not fit.",
        mend: "Measure the housing where it lies on the panel for `foot`, and take `spot` from the papers of the gauge.",
        bad: "gauge glossy\n    reads       gloss-20\n    spot        110 x 45 mm\n    foot        10 x 10 mm\n    \
              two readings agree within 0.4 GU\n    certified   2026-02-01 for 12 months\n",
        good: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
               two readings agree within 0.4 GU\n    certified   2026-02-01 for 12 months\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    findings.extend(context.study.gauges.iter().filter_map(larger));
}

fn larger(gauge: &Gauge) -> Option<Finding> {
    let (spot, foot) = (gauge.spot.as_ref()?, gauge.foot.as_ref()?);
    let (spot_sides, foot_sides) = (sides(spot.value), sides(foot.value));
    // The last bits of a converted length decide nothing.
    if spot_sides.0 <= foot_sides.0 + 1e-9 && spot_sides.1 <= foot_sides.1 + 1e-9 {
        return None;
    }
    let name = &gauge.name.value;
    let message = format!("the spot of `{name}`, {}, is larger than its foot, {}", spot.value, foot.value);
    let finding = Finding::warning(CHECK.page.code, spot.span, message)
        .related(foot.span, "its foot")
        .help("write what one reading sees as `spot`, and the housing that lies on the panel as `foot`");
    Some(finding.about(name))
}

/// The shorter and the longer side, mm, so that it does not matter which was written first.
fn sides(footprint: Footprint) -> (f64, f64) {
    let (width, height) = footprint.mm();
    (width.min(height), width.max(height))
}

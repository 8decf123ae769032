//! An application without a limit for the distance to the dew point, or with a small one.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-dew-point-margin",
        severity: Severity::Advice,
        what: "`apply` sets no least distance of the surface from the dew point, or one smaller than the trade uses.",
        why: "Near the dew point a film of water that nobody sees forms on the panel, and a coat on it does not \
              bond. It strikes some sections and not others.",
        mend: "Write `surface at least 3 degC above dew point` under `apply`. Where a product's sheet asks for \
               another distance, follow the sheet.",
        bad: "apply\n    on          2026-03-03 from 09:00\n    air         15 to 25 degC,  35 to 70 % humidity\n",
        good: "apply\n    on          2026-03-03 from 09:00\n    air         15 to 25 degC,  35 to 70 % humidity\n    \
               surface     at least 3 degC above dew point\n",
        source: "ISO 8502-4 and ISO 12944-7, with which this margin is commonly used",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    // A small study without `apply` is not asked for the climate of a day that it does not plan.
    let planned = context.study.apply.as_ref().filter(|apply| apply.stated && !apply.broken);
    let Some(apply) = planned else { return };
    let Some(usual) = context.catalog.climate().map(|climate| climate.margin_deg_c) else { return };
    let message = match apply.climate.above_dew_point {
        None => String::from("apply sets no distance between the surface and the dew point"),
        Some(margin) if margin.kelvin() < usual - 1e-9 => {
            format!("{margin} above dew point is less than the {usual} degC that trade practice uses")
        }
        Some(_) => return,
    };
    let finding = Finding::advice(CHECK.page.code, apply.span, message)
        .help("write `surface at least 3 degC above dew point`; a product's sheet overrides it");
    findings.push(finding.about("apply"));
}

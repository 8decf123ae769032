//! A limit for alike that is finer than the gauge repeats.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count, two_digits};
use crate::planning::fewest_readings;
use crate::study::{Gauge, MeasureId, Study};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "alike-below-gauge",
        severity: Severity::Warning,
        what: "The `alike` limit of a measure is smaller than the limit within which the gauge repeats itself on the \
               mean of a section: its limit for two readings over the root of the readings.",
        why: "Two sections that are the same would be called apart by the gauge alone. No product can be found \
              alike another within such a limit.",
        mend: "Widen `alike`, take more readings on each section, or use a gauge that repeats better.",
        bad: "measure gloss-20 in GU\n    higher is better\n    alike       within 0.1 GU\n    seen        from 5 GU\n",
        good: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n",
        source: "ISO 5725-6:1994, clause 4.1, on the limit for two means of repeated readings",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, _) in study.judged_measures() {
        findings.extend(study.gauges_of(id).filter_map(|gauge| finer(study, id, gauge)));
    }
}

fn finer(study: &Study, id: MeasureId, gauge: &Gauge) -> Option<Finding> {
    let measure = Some(study.measure(id)).filter(|measure| !measure.broken)?;
    let alike = measure.alike.as_ref()?;
    let readings = fewest_readings(study, id)?;
    let limit = gauge.limit_in(&measure.unit)? / f64::from(readings).sqrt();
    if alike.value >= limit {
        return None;
    }
    let (name, unit, gauge_name) = (&measure.name.value, &measure.unit.symbol, &gauge.name.value);
    let message = format!(
        "`{name}` is alike within {} {unit}, and `{gauge_name}` repeats a mean of {} within {} {unit}",
        decimal(alike.value),
        count(readings as usize, "reading"),
        two_digits(limit)
    );
    let mut finding = Finding::warning(CHECK.page.code, alike.span, message)
        .help(format!("widen `alike` beyond {} {unit}, or take more readings", two_digits(limit)))
        .about(name)
        .about(gauge_name);
    if let Some(agreement) = &gauge.agreement {
        finding = finding.related(agreement.span, "how well it repeats");
    }
    Some(finding)
}

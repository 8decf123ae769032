//! A gauge whose spread is stated in a unit that a measure of it does not have.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Gauge, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spread-in-another-unit",
        severity: Severity::Warning,
        what: "A gauge states how well it repeats in a unit that nothing has which it reads, or the study gives these no unit.",
        why: "The spread cannot be compared with those readings, so that it is passed over: outliers and planning go by the scatter \
              that the readings themselves show.",
        mend: "State the spread in the unit of the measure. Where the measure is made of others, name their unit: `read open, then under in \
               mW/cm2`.",
        bad: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 GU
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        good: "gauge pen
    reads       film
    foot        20 x 20 mm
    two readings agree within 2 um
    certified   2026-02-01 for 12 months
measure film in um
    neither is better
    alike       within 2 um
    seen        from 10 um
rounds
    baseline    after wipe
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times, film 3 times
    before each round  wash with soap, rinse, dry, wait 2 h
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let gauges = context.study.gauges.iter();
    findings.extend(gauges.filter(|gauge| !gauge.broken).filter_map(|gauge| told(context.study, gauge)));
}

fn told(study: &Study, gauge: &Gauge) -> Option<Finding> {
    let agreement = gauge.agreement.as_ref()?;
    let stated = agreement.value.limit().unit.symbol;
    let reads = gauge.reads.iter().map(|read| study.measure(read.value));
    let reads = reads.filter(|measure| !measure.broken);
    // One of several that it reads, as a colour beside its three parts, is what the spread is of.
    let all: Vec<_> = reads.collect();
    let first = all.first()?;
    if all.iter().any(|measure| gauge.spread_in(&measure.unit).is_some()) {
        return None;
    }
    let names: Vec<String> = all.iter().map(|measure| format!("`{}`", measure.name.value)).collect();
    let own = &first.unit.symbol;
    let is_in = if own.is_empty() { "no unit".to_owned() } else { own.clone() };
    let message = format!(
        "`{}` repeats to {stated}, and {} is read in {is_in}, so that this says nothing about it",
        gauge.name.value,
        list(&names, "and")
    );
    let finding = Finding::new(CHECK.page.code, CHECK.page.severity, agreement.span, message);
    let finding = if own.is_empty() {
        finding.help(format!(
            "name the unit where they are read: `read ... in {stated}` under the measure that is made of them"
        ))
    } else {
        finding.help(format!("write it in {own}"))
    };
    Some(finding.about(&gauge.name.value))
}

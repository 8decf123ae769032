//! A limit of humidity at which the surface cannot keep its distance from the dew point.

use crate::catalog::dew_point;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Apply;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "humidity-near-dew-point",
        severity: Severity::Advice,
        what: "At the highest humidity that `apply` allows, a surface as warm as the air lies nearer to the dew \
               point than the distance that `apply` asks for.",
        why: "The two limits contradict each other: whoever keeps to the humidity may still coat a damp panel.",
        mend: "Lower the limit of humidity; at 20 degC, 82 % still leaves 3 degC. Or let the panel be warmer \
               than the air, and say so in a waiver.",
        bad: "apply\n    on          2026-03-03 from 09:00\n    air         15 to 25 degC,  35 to 85 % humidity\n    \
              surface     at least 3 degC above dew point\n",
        good: "apply\n    on          2026-03-03 from 09:00\n    air         15 to 25 degC,  35 to 70 % humidity\n    \
               surface     at least 3 degC above dew point\n",
        source: "ISO 8502-4, dew point by the Magnus formula with the constants of Sonntag (1990)",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let apply = context.study.apply.as_ref().filter(|apply| !apply.broken);
    findings.extend(apply.and_then(near));
}

fn near(apply: &Apply) -> Option<Finding> {
    let climate = &apply.climate;
    let (air, asked) = (climate.air?, climate.above_dew_point?);
    let humidity = climate.humidity?.high;
    let percent = humidity.any().base();
    // The distance grows with the temperature, so the coolest air that is allowed decides.
    let left = distance(air.low.deg_c(), percent)?;
    if left >= asked.kelvin() - 1e-9 {
        return None;
    }
    let message = format!(
        "at {humidity} a surface as warm as air of {} lies {} degC above dew point, and {asked} are asked for",
        air.low,
        decimal(left)
    );
    let finding = Finding::advice(CHECK.page.code, apply.span, message)
        .help("lower the limit of humidity, or keep the panel warmer than the air");
    Some(finding.about("apply"))
}

/// Distance of the dew point from the air in degC, to a tenth, which is what a thermometer on a panel tells.
fn distance(air: f64, percent: f64) -> Option<f64> {
    Some(((air - dew_point(air, percent)?) * 10.0).round() / 10.0)
}

#[cfg(test)]
mod tests {
    use super::distance;

    #[test]
    fn at_20_degrees_a_humidity_of_82_9_percent_leaves_three_degrees_and_85_does_not() {
        assert!(distance(20.0, 82.9).unwrap() >= 3.0);
        assert!(distance(20.0, 83.5).unwrap() < 3.0);
        assert!(distance(20.0, 85.0).unwrap() < 3.0);
    }
}

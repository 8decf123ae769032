//! A coat whose record says another climate than the climate file.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::readings::{CoatHour, Conditions};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "climate-unlike-record",
        severity: Severity::Advice,
        what: "Air, humidity or surface in the record of a coat differ from the climate file of that hour by more than \
               3 degC or 10 % humidity. The record counts, and the report prints both.",
        why: "A logger in another room, a clock that is an hour off, or a slip in the record: each puts another climate \
              beside the coat than the one it met.",
        mend: "Look at the clock and the place of the logger, and correct what is wrong. Where both are right, say in a waiver why they differ.",
        bad: "climate \"climate.csv\"
done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 51 % humidity  surface 18 degC
--- climate.csv
time,air degC,humidity %
2026-03-03 09:00,14,64
2026-03-03 10:00,14.5,63
",
        good: "climate \"climate.csv\"
done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 51 % humidity  surface 18 degC
--- climate.csv
time,air degC,humidity %
2026-03-03 09:00,19.4,54
2026-03-03 10:00,19.5,54
",
        source: "common practice, no source",
    },
    run,
};

/// Two thermometers at one place agree so far, degC.
const DEGREES: f64 = 3.0;
/// And so do two humidity sensors, percent.
const PERCENT: f64 = 10.0;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for hour in context.readings.coat_hours(context.study) {
        let (Some((number, product)), Some(in_file)) = (hour.coat, hour.in_file) else { continue };
        let unlike = unlike(&hour, in_file);
        if unlike.is_empty() {
            continue;
        }
        let name = &context.study.product(product).name.value;
        let message = format!(
            "the record of coat {number} of `{name}` and the climate file differ: {}",
            list(&unlike, "and")
        );
        let finding = Finding::advice(CHECK.page.code, hour.place, message).help(
            "look at the clock and the place of the logger; the record counts, and the report prints both",
        );
        findings.push(finding.about(name).about("climate"));
    }
}

fn unlike(hour: &CoatHour, in_file: Conditions) -> Vec<String> {
    let recorded = hour.recorded;
    let pairs = [
        ("air", recorded.air_deg_c, in_file.air_deg_c, DEGREES, "degC"),
        ("humidity", recorded.humidity_percent, in_file.humidity_percent, PERCENT, "%"),
        ("surface", recorded.surface_deg_c, in_file.surface_deg_c, DEGREES, "degC"),
    ];
    let tenth = |value: f64| decimal((value * 10.0).round() / 10.0);
    let told = pairs.into_iter().filter_map(|(what, one, other, most, unit)| {
        let (one, other) = (one?, other?);
        ((one - other).abs() > most + 1e-9)
            .then(|| format!("{what} {} {unit} and {} {unit}", tenth(one), tenth(other)))
    });
    told.collect()
}

//! A coat that by the climate file went on outside of what is asked for.

use crate::catalog::Catalog;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::readings::{CoatHour, Conditions};
use crate::study::{ApplyClimate, Study};
use crate::units::{Quantity, TemperatureStep, decimal};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "coat-outside-climate",
        severity: Severity::Warning,
        what: "By the climate file a coat went on while air, humidity or surface were outside of what the product, or `apply`, asks for. \
               Only what the record of the coat does not say is taken from the file.",
        why: "A coat cures otherwise in the cold, in the damp and on a hot panel. Near the dew point it goes on water \
              that nobody sees.",
        mend: "Log it for these sections, and judge them with that in mind. If the hour is a slip, correct the record.",
        bad: "climate \"climate.csv\"
done 2026-03-03 09:10  coat 1 of bay
--- climate.csv
time,air degC,humidity %,surface degC
2026-03-03 09:00,19.5,78,16
2026-03-03 10:00,20,76,17
",
        good: "climate \"climate.csv\"
done 2026-03-03 09:10  coat 1 of bay
--- climate.csv
time,air degC,humidity %,surface degC
2026-03-03 09:00,19.5,52,18
2026-03-03 10:00,20,51,18.5
",
        source: "dew point by the Magnus formula with the constants of Sonntag (1990); margin commonly used with ISO 8502-4 and ISO 12944-7",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(apply) = study.apply.as_ref().filter(|apply| !apply.broken) else { return };
    for hour in context.readings.coat_hours(study) {
        let Some(in_file) = hour.in_file else { continue };
        let own = hour.coat.map(|(_, product)| study.climate_for(product));
        let outside = outside(own.as_ref().unwrap_or(&apply.climate), context.catalog, &hour, in_file);
        if outside.is_empty() {
            continue;
        }
        let message = format!("{} met {}", what(study, &hour), list(&outside, "and"));
        let finding = Finding::warning(CHECK.page.code, hour.place, message)
            .label("by the climate file of this hour")
            .help("`log` it for these sections, or correct the hour if it is a slip");
        let name = hour.coat.map_or("apply", |(_, product)| &study.product(product).name.value);
        findings.push(finding.about(name).about("climate"));
    }
}

fn what(study: &Study, hour: &CoatHour) -> String {
    match hour.coat {
        Some((number, product)) => format!("coat {number} of `{}`", study.product(product).name.value),
        None => String::from("the start of the application"),
    }
}

/// What of the file is outside; what the record says is the matter of other checks.
fn outside(asked: &ApplyClimate, catalog: &Catalog, hour: &CoatHour, in_file: Conditions) -> Vec<String> {
    let (recorded, known) = (hour.recorded, hour.known());
    let silent = |recorded: Option<f64>, value: Option<f64>| value.filter(|_| recorded.is_none());
    let mut outside = Vec::new();
    if let (Some(air), Some(asked)) = (silent(recorded.air_deg_c, in_file.air_deg_c), asked.air)
        && !is_within(air, asked.low.deg_c(), asked.high.deg_c())
    {
        outside.push(format!("air of {} degC, and {asked} are asked for", tenth(air)));
    }
    let humidity = silent(recorded.humidity_percent, in_file.humidity_percent);
    if let (Some(humidity), Some(asked)) = (humidity, asked.humidity)
        && !is_within(humidity, asked.low.any().base(), asked.high.any().base())
    {
        outside.push(format!("a humidity of {} %, and {asked} are asked for", tenth(humidity)));
    }
    let surface = silent(recorded.surface_deg_c, in_file.surface_deg_c);
    if let (Some(surface), Some(below)) = (surface, asked.surface_below)
        && surface > below.deg_c() + SLACK
    {
        outside.push(format!("a surface of {} degC, and below {below} is asked for", tenth(surface)));
    }
    let least = asked.above_dew_point.map(Quantity::<TemperatureStep>::kelvin);
    let least = least.or(catalog.climate().map(|rule| rule.margin_deg_c));
    let above = silent(recorded.above_dew_point_deg_c(), known.above_dew_point_deg_c());
    if let (Some(above), Some(least)) = (above, least)
        && above < least - SLACK
    {
        let asked =
            asked.above_dew_point.map_or_else(|| format!("{} degC", decimal(least)), |step| step.to_string());
        let far = tenth(above.abs());
        outside.push(if above > 0.0 {
            format!("a surface {far} degC above the dew point, and {asked} are asked for")
        } else {
            format!("a wet surface, {far} degC below the dew point, and {asked} above it are asked for")
        });
    }
    outside
}

/// What a turn from one unit into another may be off by, degC or percent.
const SLACK: f64 = 1e-9;

fn is_within(value: f64, low: f64, high: f64) -> bool {
    (low - SLACK..=high + SLACK).contains(&value)
}

/// A value to a tenth, which is what a logger tells.
fn tenth(value: f64) -> String {
    decimal((value * 10.0).round() / 10.0)
}

//! A climate file whose rows all lie before the panel went out, or after it came in.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{ClimateFile, Exposure, Study};
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "climate-elsewhen",
        severity: Severity::Warning,
        what: "No row of a climate file lies between the day on which the panel went out, or products went on, and the day on \
               which it came in or was last read.",
        why: "The report would tell of no hour of weather, as if nothing had been recorded, and nobody would look for a wrong \
              year in the clock of a logger.",
        mend: "Put the file of the right months beside the study, or correct the clock of the logger and the days of its rows.",
        bad: BAD,
        good: GOOD,
        source: "common practice, no source",
    },
    run,
};

const BAD: &str = "climate \"yard.csv\"
--- date 2026-06-10
--- readings.csv
date,round,section,measure,unit,1,2,3,4,5
2026-03-11,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2
--- yard.csv
time,air degC
2024-03-06 09:00,11
2024-03-06 10:00,12
";
const GOOD: &str = "climate \"yard.csv\"
--- date 2026-06-10
--- readings.csv
date,round,section,measure,unit,1,2,3,4,5
2026-03-11,fresh,A1,gloss-20,GU,92.1,92.2,92.0,92.1,92.2
--- yard.csv
time,air degC
2026-03-06 09:00,11
2026-03-06 10:00,12
";

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (file, climate) in study.climate.iter().zip(&context.readings.climate) {
        let rows = (climate.rows.first(), climate.rows.last());
        let ((Some(first), Some(last)), Some((from, to))) = (rows, met(context, file)) else { continue };
        if first.at.date() <= to && last.at.date() >= from {
            continue;
        }
        let name = &file.name.value;
        let message = format!(
            "`{name}` has rows from {} to {}, and the panel is looked at from {from} to {to}",
            first.at.date(),
            last.at.date()
        );
        findings.push(
            Finding::warning(CHECK.page.code, file.name.span, message)
                .help("look for a wrong year in the clock of the logger, or put the file of these months in its place")
                .about("climate"),
        );
    }
}

/// The days of which the report tells the weather: from the first of the work to the last that was read. Before a reading of a
/// coat nothing is missed yet.
fn met(context: &Context<'_>, file: &ClimateFile) -> Option<(Date, Date)> {
    let study = context.study;
    let places = study
        .exposures
        .iter()
        .filter(|place| file.site.is_none() || place.of.is_none() || place.of == file.site);
    let (out, home): (Vec<Option<Date>>, Vec<Option<Date>>) = places.map(days).unzip();
    let from = applied(study).into_iter().chain(out.into_iter().flatten()).min()?;
    let read = context.readings.last_date().filter(|read| *read > from)?;
    Some((from, home.into_iter().flatten().max().map_or(read, |home| home.max(read))))
}

fn applied(study: &Study) -> Option<Date> {
    study.apply.as_ref()?.on.as_ref().map(|on| on.value)
}

fn days(place: &Exposure) -> (Option<Date>, Option<Date>) {
    (place.put_out.as_ref().map(|day| day.value), place.brought_in.as_ref().map(|day| day.value))
}

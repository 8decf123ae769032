//! A section whose readings lie far from its own other rounds and from sections that are treated alike.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::{FarSection, Readings, far_sections};
use crate::study::Study;
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "section-far-off",
        severity: Severity::Warning,
        what: "Every reading of a section in a round is less than half or more than double of what the same section \
               has in each of its other rounds, and of what each of the sections that are treated alike has in this \
               round. The distance to the nearest of these is also more than five times the usual one (the median \
               of all such distances, times 1.4826), the gauge's spread, and what is alike; beyond ten times the first two, half and double are not asked \
               for. Ratings are not \
               looked at, nor measures of which lower is better, since faults grow from nothing, nor treatments that \
               stand on one section.",
        why: "A point that was lost (8.84 for 88.4), a row that slipped or a gauge that was off the panel makes such \
              numbers, and one of them is enough to turn the mean of a product. Products that lose much lose it on \
              all of their sections, or the section stays low in later rounds; neither is told here.",
        mend: "Look on the paper sheet and correct what was typed wrong. If the section is like that, write what \
               happened to it in the log, and say so in a waiver.",
        bad: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
              2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n\
              2026-03-03,baseline,B3,gloss-20,GU,90.4,90.2,90.3,90.1,90.2\n\
              2026-03-03,baseline,C2,gloss-20,GU,89.9,90.2,90.0,90.3,90.1\n\
              2026-03-11,fresh,A1,gloss-20,GU,91.1,91.2,91.0,91.1,91.2\n\
              2026-03-11,fresh,B3,gloss-20,GU,9.14,9.12,9.13,9.11,9.12\n\
              2026-03-11,fresh,C2,gloss-20,GU,90.9,91.2,91.0,91.3,91.1\n",
        good: "--- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3,4,5\n\
               2026-03-03,baseline,A1,gloss-20,GU,90.1,90.2,90.0,90.1,90.2\n\
               2026-03-03,baseline,B3,gloss-20,GU,90.4,90.2,90.3,90.1,90.2\n\
               2026-03-03,baseline,C2,gloss-20,GU,89.9,90.2,90.0,90.3,90.1\n\
               2026-03-11,fresh,A1,gloss-20,GU,91.1,91.2,91.0,91.1,91.2\n\
               2026-03-11,fresh,B3,gloss-20,GU,91.4,91.2,91.3,91.1,91.2\n\
               2026-03-11,fresh,C2,gloss-20,GU,90.9,91.2,91.0,91.3,91.1\n",
        source: "Hampel (1974), JASA 69, 383-393, for the median distance as a spread; half, double and the factors 5 and \
                 10 are common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    // A line that leaves readings out and could not be taken may be about these.
    if study.rounds_broken || study.readings.iter().any(|file| file.broken) {
        return;
    }
    findings.extend(far_sections(study, readings).iter().filter_map(|far| told(study, readings, far)));
}

fn told(study: &Study, readings: &Readings, far: &FarSection) -> Option<Finding> {
    let cell = readings.cells().get(far.cell)?;
    let measure = study.measure(cell.measure);
    let (name, unit) = (&measure.name.value, &measure.unit.behind());
    let (section, round) = (&study.section(cell.section).code, &study.round(cell.round).name.value);
    let shown = |value: f64| decimal((value * 1000.0).round() / 1000.0);
    let [others, twins] = [far.others, far.twins].map(|(least, most)| {
        let (least, most) = (shown(least), shown(most));
        if least == most { least } else { format!("{least} to {most}") }
    });
    let message = format!(
        "`{name}` on `{section}` at `{round}` is {}{unit}, its other rounds have {others}{unit}, and sections \
         treated alike {twins}{unit}",
        shown(far.mean)
    );
    let first = readings.of(cell).find(|reading| reading.value.number().is_some())?;
    let waiver = format!("allow section far off for {section} because \"...\"");
    Some(
        Finding::warning(CHECK.page.code, first.place, message)
            .help("look on the sheet for a lost point or a row that slipped, and type what the gauge showed")
            .help(format!(
                "if `{section}` is like that, write in the log what happened to it, and `{waiver}`"
            ))
            .about(section)
            .about(round)
            .about(name),
    )
}

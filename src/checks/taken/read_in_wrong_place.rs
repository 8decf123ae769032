//! A measure of the panel read on a loose specimen, or the other way round.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{SpecimensId, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "read-in-wrong-place",
        severity: Severity::Error,
        what: "A measure was read where it is not read: on the panel in place of the specimens, or the other way round.",
        why: "Light that a slip lets through says nothing about an opaque panel, and a slip does not weather as the \
              panel does. Mixed in one table, both would be wrong.",
        mend: "Name the specimen in the row, as `bay`, or say with `on` in the head of the measure where it is read.",
        bad: "specimens slips\n    one for each product and bare\nmeasure haze in % on slips\n    lower is better\n\
              rounds\n    baseline after wipe\n    month 3 within 3 days\n    every round gloss-20 5 times, haze once\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,value\n\
              2026-03-02,baseline,A1,haze,12\n",
        good: "specimens slips\n    one for each product and bare\nmeasure haze in % on slips\n    lower is better\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, measure) in study.measures_with_ids() {
        let odd = |cell: &&crate::readings::Cell| {
            cell.measure == id && study.section(cell.section).specimen != measure.home
        };
        let Some(cell) = context.readings.cells().iter().find(odd) else { continue };
        let Some(reading) = context.readings.of(cell).next() else { continue };
        let (name, section) = (&measure.name.value, study.section(cell.section));
        let message = format!(
            "`{name}` is read on {}, and `{}` is {}",
            home(study, measure.home),
            section.code,
            one_of(study, section.specimen)
        );
        findings.push(
            Finding::error(CHECK.page.code, reading.place, message)
                .help(format!("name one of {}", home(study, measure.home)))
                .about(name),
        );
    }
}

fn home(study: &Study, specimens: Option<SpecimensId>) -> String {
    match specimens {
        Some(id) => format!("the {}", study.specimens[id.index()].name.value),
        None => "the sections of the panel".to_owned(),
    }
}

fn one_of(study: &Study, specimens: Option<SpecimensId>) -> String {
    match specimens {
        Some(_) => format!("one of {}", home(study, specimens)),
        None => "a section of the panel".to_owned(),
    }
}

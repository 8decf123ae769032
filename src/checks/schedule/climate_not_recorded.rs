//! A coat whose climate is not on record.

use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, DoneWhat};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "climate-not-recorded",
        severity: Severity::Advice,
        what: "A coat is recorded as done without air, humidity or surface, and the plan asks for a margin to the dew point.",
        why: "Whether the margin was kept can only be worked out of the three together, and nobody remembers them a month later.",
        mend: "Write what was read: `at 19 degC, 51 % humidity  surface 18 degC`.",
        bad: "done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 51 % humidity
",
        good: "done 2026-03-03 09:10  coat 1 of bay  at 19 degC, 51 % humidity  surface 18 degC
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    if study.apply.as_ref().is_none_or(|apply| apply.broken || apply.climate.above_dew_point.is_none()) {
        return;
    }
    let lacks = |done: &&Done| matches!(done.what, DoneWhat::Coat(..)) && !missing(done).is_empty();
    let mut without = study.done.iter().filter(lacks);
    let Some(first) = without.next() else { return };
    let message = format!(
        "a coat is recorded without {}, so its margin to the dew point is not known",
        list(&missing(first), "and")
    );
    let finding = Finding::advice(CHECK.page.code, first.place, message)
        .help("write what was read: `at 19 degC, 51 % humidity  surface 18 degC`")
        .about("done")
        .about("apply");
    findings.push(without.fold(finding, |finding, done| finding.related(done.place, "this one as well")));
}

fn missing(done: &Done) -> Vec<&'static str> {
    let parts = [
        (done.at.is_none(), "air"),
        (done.humidity.is_none(), "humidity"),
        (done.surface.is_none(), "surface"),
    ];
    parts.into_iter().filter(|(lacks, _)| *lacks).map(|(_, word)| word).collect()
}

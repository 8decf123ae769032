//! Steps that the plan gives to every section and the record only to some.

use super::records::{about, codes};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Done, SectionId, Step, Study, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "recorded-on-some-sections",
        severity: Severity::Warning,
        what: "The record names some sections for a step, the plan means more, and no other record has the rest. It is told once \
               the products are on.",
        why: "A step that some sections get and others do not is a treatment of its own: what these sections show is of the \
              product and of the step together.",
        mend: "Add the sections that are missing, or leave the field blank where all of them were done. If it was so, write \
               `only on` in the step, which the report then says, or say in a waiver what happened.",
        bad: "done 2026-03-02 09:40  decontaminate  on A1 and A2\ndone 2026-03-03 09:10  coat 1 of bay\n",
        good: "done 2026-03-02 09:40  decontaminate\ndone 2026-03-03 09:10  coat 1 of bay\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let whole = !study.done_broken && study.records.iter().all(|file| !file.broken);
    let coated = study.done.iter().any(|done| super::records::coat(done).is_some());
    if !whole || !coated || study.prep_broken || study.map_broken {
        return;
    }
    for (step, records) in study.prep.iter().zip(study.recorded_steps()) {
        findings.extend(finding(study, step, &records));
    }
}

fn finding(study: &Study, step: &Step, records: &[&Done]) -> Option<Finding> {
    // A reading, a wait and a label change nothing on the surface.
    let changes = !matches!(step.verb, Verb::Read | Verb::Wait | Verb::Label);
    let first = records.first().filter(|_| changes)?;
    let meant: Vec<SectionId> = match &step.only {
        Some(only) => only.sections.clone(),
        None => study.prepared().map(|(id, _)| id).collect(),
    };
    let is_left = |section: &SectionId| !records.iter().any(|done| done.is_on(*section));
    let (left, had): (Vec<SectionId>, Vec<SectionId>) = meant.into_iter().partition(is_left);
    if left.is_empty() || had.is_empty() {
        return None;
    }
    let message = format!(
        "`{}` is recorded on {} and not on {}, which makes it a treatment of its own",
        step.verb.word(),
        codes(study, &had),
        codes(study, &left)
    );
    let help = "add the sections that are missing, leave the field of sections blank where all were done, or write `only on` \
                in the step";
    let finding = Finding::warning(CHECK.page.code, first.place, message).help(help);
    Some(about(study, finding.related(step.span, "the step as planned"), first))
}

//! A step that some sections get and others do not.

use super::steps::{Sequence, sequences};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, list};
use crate::study::{Only, Study, Treatment, Verb};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "step-on-some-sections",
        severity: Severity::Warning,
        what: "A step is done on some sections only, and these are not all sections of a product or of `carrier-only`.",
        why: "A step that some sections get is a treatment of its own. What these sections show is of the product and of the step together, and no later reading can tell the two apart.",
        mend: "Do the step on every section, or give these sections a place of their own on the map: `carrier-only`, or a product that is `like` theirs. If it has to be, `allow` it with the reason, which the report prints.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"  only on A1 and A2 because \"scratches by the handle\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "prep
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for Sequence { place, steps } in sequences(context.study) {
        // A reading changes nothing on the surface.
        for step in steps.into_iter().filter(|step| step.verb != Verb::Read) {
            let on = context.study.done_on(step).filter(|only| !is_treatment(context.study, only));
            findings.extend(on.map(|only| told(context.study, step.verb, only).about(place)));
        }
    }
}

/// Whether the sections are all those of products or of `carrier-only`, so that the step belongs to what is compared.
fn is_treatment(study: &Study, only: &Only) -> bool {
    only.sections.iter().all(|&section| {
        let treatment = study.section(section).treatment;
        let whole = || study.sections_of(treatment).all(|(other, _)| only.sections.contains(&other));
        matches!(treatment, Treatment::Product(_) | Treatment::CarrierOnly) && whole()
    })
}

// The sections that it is about are added with those of every finding that only some sections have.
fn told(study: &Study, verb: Verb, only: &Only) -> Finding {
    let codes: Vec<&str> = only.sections.iter().map(|&id| study.section(id).code.as_str()).collect();
    let (word, codes) = (verb.word(), list(&codes, "and"));
    let message = format!("`{word}` is done on {codes} only, which makes it a treatment of its own");
    Finding::warning(CHECK.page.code, only.span, message).help(
        "do it on every section, or make these sections `carrier-only` or a product of their own on the map",
    )
}

//! A study that says nothing about preparation.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-prep",
        severity: Severity::Warning,
        what: "The study has no step of preparation.",
        why: "A critic cannot know what lay under the products, and nobody can repeat the comparison.",
        mend: "Write a `prep` block with every step in order: at least a wash, drying and a wipe.",
        bad: "prep
rounds
    baseline    before apply
    fresh       8 days after apply  within 1 day
    month 3     within 3 days
    every round gloss-20 5 times
    before each round  wash with soap, rinse, dry, wait 2 h
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
    let study = context.study;
    // A round that counts from a step asks for preparation already.
    if study.prep_broken || !study.prep.is_empty() || !study.prep_lacks.is_empty() {
        return;
    }
    let span = study.prep_span.unwrap_or(study.title.span);
    findings.push(
        Finding::warning(CHECK.page.code, span, "the study has no step of preparation")
            .help("write `prep` and under it the steps in order, such as `wash`, `dry`, `wipe`")
            .about("prep")
            .about("study"),
    );
}

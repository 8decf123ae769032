//! Tape that is pulled when the coat is hard.

use crate::checks::{Check, Context};
use crate::diag::list;
use crate::diag::{Finding, Page, Severity};
use crate::study::{Product, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "tape-left-through-cure",
        severity: Severity::Warning,
        what: "The tape of the sections comes off after a product has dried or cured.",
        why: "The coat has then bridged the tape: it tears at the edge, or comes off with it, and adhesive stays behind.",
        mend: "Pull the tape while the last coat is still soft, as the data sheet says: `tape off 1 h after last coat`.",
        bad: "apply
    on          2026-03-03 from 09:00
    air         15 to 25 degC,  35 to 70 % humidity
    surface     at least 3 degC above dew point
    tape off    24 h after last coat
    by          \"K. M.\"
",
        good: "apply
    on          2026-03-03 from 09:00
    air         15 to 25 degC,  35 to 70 % humidity
    surface     at least 3 degC above dew point
    tape off    1 h after last coat
    by          \"K. M.\"
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(off) = study.apply.as_ref().and_then(|apply| apply.tape_off.as_ref()) else { return };
    let hard =
        |product: &Product| product.dry.as_ref().or(product.cure.as_ref()).map(|time| time.value.seconds());
    let placed = study
        .products_with_ids()
        .filter(|(id, _)| study.sections_of(Treatment::Product(*id)).next().is_some());
    let late: Vec<&str> = placed
        .filter(|(_, product)| hard(product).is_some_and(|hard_s| off.after.high.seconds() > hard_s))
        .map(|(_, product)| product.name.value.as_str())
        .collect();
    let Some(first) = late.first() else { return };
    let message = format!(
        "the tape comes off {} after the coat, when {} {} dry",
        off.after,
        list(&late, "and"),
        if late.len() == 1 { "is" } else { "are" }
    );
    findings.push(
        Finding::warning(CHECK.page.code, off.span, message)
            .label("at the edges of their sections")
            .help("write `tape off 1 h after last coat`, or the time of the data sheets")
            .about(*first)
            .about("apply"),
    );
}

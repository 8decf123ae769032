//! Preparation without decontamination.

use super::missing;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Verb;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-decontamination",
        severity: Severity::Advice,
        what: "Preparation has no `decontaminate`.",
        why: "Iron, tar and lime stay under the products. They rust or lift later, and the product is blamed.",
        mend: "Add a step with an iron remover or tar remover, its dwell and a rinse; or say why the panel does not need it.",
        bad: "prep
    wash        with soap,  1 part to 200 water,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
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
    let help = "write `decontaminate with` an iron remover, `for` its dwell, `rinse`; or `allow no-decontamination for prep because` and the reason";
    findings.extend(missing::finding(
        context,
        &CHECK.page,
        Verb::Decontaminate,
        "preparation has no `decontaminate`",
        help,
    ));
}

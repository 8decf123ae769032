//! A mix that is kept longer than it works.

use super::steps::class;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "mix-kept-too-long",
        severity: Severity::Warning,
        what: "A mix of bleach or peroxide is kept longer than a day.",
        why: "Once thinned it breaks down: what is used a week later is weaker, and a closed bottle of it can burst.",
        mend: "Mix it on the day, in a vented bottle, and throw the rest away by the local rules.",
        bad: "supply mould-off, bleach
    mix         1 part to 10 water
    keeps       7 days
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with mould-off  for 8 min,  rinse
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        good: "supply mould-off, bleach
    mix         1 part to 10 water
    keeps       12 h
    sheet       \"mould-off-sheet.pdf\" dated 2025-10-01
prep
    wash        with mould-off  for 8 min,  rinse
    wash        with soap,  1 part to 200 water,  rinse
    decontaminate with iron-off  for 5 min,  rinse
    clay        with slick,  rinse
    dry
    polish      with smooth-out  tool \"foam pad\"
    wipe        with spirit 35 % by volume  twice, fresh cloth,  wait 5 min
    tape        lines 6 mm wide
    label
",
        source: "from memory, follow the data sheet",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for supply in &context.study.supplies {
        let most = class(supply).and_then(|class| class.work.mix_keeps_s);
        let Some((keeps, most)) = supply.keeps.as_ref().zip(most) else { continue };
        if keeps.value.seconds() <= most {
            continue;
        }
        let name = &supply.name.value;
        let message =
            format!("a mix of `{name}` is kept {}, and it works {} h", keeps.value, decimal(most / 3600.0));
        findings.push(
            Finding::warning(CHECK.page.code, keeps.span, message)
                .help("write `keeps 24 h` or less, and mix it on the day of the step")
                .about(name),
        );
    }
}

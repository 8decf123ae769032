//! Limits of a measure that contradict each other.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "alike-not-below-seen",
        severity: Severity::Error,
        what: "The limit up to which differences are `alike` is not smaller than the one from which they are `seen`.",
        why: "The same difference would be alike and seen at once, so no word of the report could be trusted.",
        mend: "Let `alike` end well below `seen`.",
        bad: "measure gloss-20 in GU\n    higher is better\n    alike       within 6 GU\n    seen        from 5 GU\n",
        good: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for measure in context.study.measures.iter().filter(|measure| !measure.broken) {
        let (Some(alike), Some(seen)) = (&measure.alike, &measure.seen) else { continue };
        if alike.value < seen.value {
            continue;
        }
        let (name, unit) = (&measure.name.value, &measure.unit.symbol);
        let message = format!(
            "`{name}` is alike within {} {unit} and seen from {} {unit}",
            decimal(alike.value),
            decimal(seen.value)
        );
        let finding = Finding::error(CHECK.page.code, alike.span, message)
            .related(seen.span, "seen from here on")
            .help("let `alike` end below `seen`")
            .binding();
        findings.push(finding.about(name));
    }
}

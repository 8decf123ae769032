//! A measure that does not say which differences matter.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::MeasureKind;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-limits",
        severity: Severity::Advice,
        what: "A measure that rounds read has neither an `alike` nor a `seen` limit.",
        why: "The report can then say `measurable` or `not settled` and nothing else. Whether anybody would notice \
              a difference, and whether two products are as good as each other, stays open.",
        mend: "Say what you would call the same and what an eye notices, before the first reading: \
               `alike within 2 GU`, `seen from 5 GU`.",
        bad: "measure slickness in N\n    lower is better\n    change from baseline\nrounds\n    \
              baseline    after wipe                           gloss-20 5 times, slickness 3 times\n    \
              fresh       8 days after apply  within 1 day     gloss-20 5 times, slickness 3 times\n    \
              month 3     within 3 days                        gloss-20 5 times, slickness 3 times\n",
        good: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for (id, measure) in study.judged_measures() {
        let read = study.rounds_with_ids().any(|(round, _)| study.planned_readings(round, id) > 0);
        let rated = matches!(measure.kind, MeasureKind::Rating(_));
        if rated || measure.broken || !read || measure.alike.is_some() || measure.seen.is_some() {
            continue;
        }
        let (name, unit) = (&measure.name.value, &measure.unit.symbol);
        let message = format!("`{name}` does not say which differences are alike and which are seen");
        let help =
            format!("add `alike within ... {unit}` and `seen from ... {unit}` before the first reading");
        findings.push(Finding::advice(CHECK.page.code, measure.name.span, message).help(help).about(name));
    }
}

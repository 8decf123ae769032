//! A limit for spent on the side on which a measure is good.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Direction;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spent-against-direction",
        severity: Severity::Warning,
        what: "A measure of which more is better counts a section as spent above a limit, or one of which less is \
               better counts it as spent below.",
        why: "Every section would be spent while it is good and pass again once it is worn, and the months held \
              would be those of the worst product.",
        mend: "Write `spent below` where higher is better and `spent above` where lower is better, or correct the \
               direction.",
        bad: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n    \
              spent       above 80 % of fresh\n",
        good: "measure gloss-20 in GU\n    higher is better\n    alike       within 2 GU\n    seen        from 5 GU\n    \
               spent       below 80 % of fresh\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    for measure in context.study.measures.iter().filter(|measure| !measure.broken) {
        let Some(spent) = measure.spent else { continue };
        let (better, said, right) = match (measure.direction, spent.below) {
            (Direction::Higher, false) => ("higher", "above", "below"),
            (Direction::Lower, true) => ("lower", "below", "above"),
            _ => continue,
        };
        let name = &measure.name.value;
        let message = format!("`{name}` is spent {said} a limit, and {better} is better");
        let finding = Finding::warning(CHECK.page.code, spent.span, message)
            .help(format!("write `spent {right}`, or correct which way is better"));
        findings.push(finding.about(name));
    }
}

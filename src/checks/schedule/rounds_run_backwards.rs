//! Rounds that stand in the file in another order than they are read.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::Round;
use jiff::civil::Date;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "rounds-run-backwards",
        severity: Severity::Warning,
        what: "A round is dated before a round that stands above it in the file.",
        why: "Mostly one of the two dates is a slip. If it is not, whoever reads the study still takes the \
              rounds to run downwards.",
        mend: "Correct the date, or put the rounds in order of their dates.",
        bad: "rounds\n    baseline    after wipe\n    month 3     within 3 days\n    \
              fresh       8 days after apply  within 1 day\n    every round gloss-20 5 times\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let mut latest: Option<(Date, &Round)> = None;
    for round in &context.study.rounds {
        let Some(date) = round.date() else { continue };
        match latest {
            Some((above, other)) if date < above => {
                let (name, other_name) = (&round.name.value, &other.name.value);
                let message =
                    format!("`{name}` ({date}) stands below `{other_name}` ({above}), which is later");
                let finding = Finding::warning(CHECK.page.code, round.name.span, message)
                    .related(other.name.span, "later, and stands above")
                    .help("correct its date, or put the rounds in order of their dates");
                findings.push(finding.about(name).about("rounds"));
            }
            _ => latest = Some((date, round)),
        }
    }
}

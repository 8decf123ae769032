//! Two rounds on one day, or with windows that overlap.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Round, Window};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "rounds-collide",
        severity: Severity::Warning,
        what: "Two rounds are planned for the same day, or a day lies in the windows of both.",
        why: "A reading on such a day could belong to either round, and two readings of nearly the same day do \
              not show wear.",
        mend: "Move one of the rounds, narrow `within`, or make one round of the two.",
        bad: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
              month 3     within 3 days\n    week 13     within 3 days\n    every round gloss-20 5 times\n",
        good: "rounds\n    baseline    after wipe\n    fresh       8 days after apply  within 1 day\n    \
               month 3     within 3 days\n    week 16     within 3 days\n    every round gloss-20 5 times\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let rounds = context.study.rounds.iter();
    let mut dated: Vec<(Window, &Round)> = rounds.filter_map(|round| Some((round.window?, round))).collect();
    // The round that stands later in the file is the one to move, so equal days keep the file's order.
    dated.sort_by_key(|&(window, round)| (window.date, round.span));
    let pairs = dated.windows(2);
    let told: Vec<Finding> = pairs.filter_map(|pair| collide(*pair.first()?, *pair.get(1)?)).collect();
    // So many have one cause, as a window wider than the time between two rounds.
    if told.len() > MOST {
        findings.extend(together(&told));
    } else {
        findings.extend(told);
    }
}

/// Up to so many are told one by one.
const MOST: usize = 5;

fn together(told: &[Finding]) -> Option<Finding> {
    let (first, others) = told.split_first()?;
    let mut finding = first.clone();
    finding.message = format!("{}; {} more rounds run into the one before them", first.message, others.len());
    finding.help =
        vec!["narrow `within`, which is wider than the time between two rounds, or move the rounds".into()];
    // A waiver for one of the rounds is none for all of them.
    finding.about = vec!["rounds".into()];
    Some(others.iter().fold(finding, |finding, other| finding.related(other.place, "this one as well")))
}

fn collide(earlier: (Window, &Round), later: (Window, &Round)) -> Option<Finding> {
    let (before, after) = (&earlier.1.name.value, &later.1.name.value);
    let message = if earlier.0.date == later.0.date {
        format!("`{before}` and `{after}` are both planned for {}", later.0.date)
    } else if later.0.first <= earlier.0.last {
        let (from, to) = (later.0.first.max(earlier.0.first), earlier.0.last.min(later.0.last));
        let days = if from == to { from.to_string() } else { format!("{from} to {to}") };
        format!("`{before}` and `{after}` may both be read on {days}")
    } else {
        return None;
    };
    let finding = Finding::warning(CHECK.page.code, later.1.name.span, message)
        .related(earlier.1.name.span, "the other round")
        .help("move one of them, or narrow `within`");
    Some(finding.about(after).about("rounds"))
}

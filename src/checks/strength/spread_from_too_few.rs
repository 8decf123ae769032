//! A layout whose scatter rests on so few sections that no word of comparison is given.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::planning::Room;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "spread-from-too-few",
        severity: Severity::Warning,
        what: "The scatter among sections treated alike would rest on one or two degrees of freedom: the number of \
               sections, less one for each treatment.",
        why: "With fewer than three, intervals are so wide and so unsure that the report prints them without the \
              words alike, measurable and seen.",
        mend: "Add bare sections until sections less treatments is three or more; four to six bare are usual.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
              | bay    clove  bare   cumin  |\n    | bare   .      .      .      |\n",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
               | bay    clove  bare   cumin  |\n    | bare   bare   .      bare   |\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(room) = Room::on_panel(study).filter(|room| (1..3).contains(&room.df)) else { return };
    let place = study.grid().map(|grid| grid.span).unwrap_or_default();
    let message = format!(
        "the scatter among sections treated alike rests on {}, and words of comparison ask for three",
        if room.df == 1 { "one degree of freedom" } else { "two degrees of freedom" }
    );
    let finding = Finding::warning(CHECK.page.code, place, message)
        .help(format!("add {} or more; every one counts", count(3 - room.df, "bare section")));
    findings.push(finding.about("map").about("study"));
}

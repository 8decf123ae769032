//! A layout in which nothing is treated twice, so that no scatter is known.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::planning::Room;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "compares-sections-not-products",
        severity: Severity::Warning,
        what: "No treatment stands on two sections: every product has one, and at most one section is bare.",
        why: "How far two sections treated alike differ is then unknown, so a difference between two products \
              may be one between two places of the panel. The report gives differences only, without an \
              interval and without a word of comparison.",
        mend: "Leave four to six sections bare, or give at least some products a second section.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
              | bay    clove  bare   cumin  |\n",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm\n    \
               | bay    clove  bare   cumin  |\n    | bare   cumin  bay    clove  |\n",
        source: "Hurlbert (1984), Ecological Monographs 54, 187-211, on replicates of a treatment",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let Some(room) = Room::on_panel(study).filter(|room| room.df == 0) else { return };
    if room.compared().len() + room.bare < 2 {
        return;
    }
    let place = study.grid().map(|grid| grid.span).unwrap_or_default();
    let finding = Finding::warning(
        CHECK.page.code,
        place,
        "no treatment stands on two sections, so this study compares sections, not products",
    )
    .help("leave four to six sections bare, or give some products a second section");
    findings.push(finding.about("map").about("study"));
}

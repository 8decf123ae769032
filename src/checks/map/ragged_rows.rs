//! Rows of the drawing that have more or fewer places than the others.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::study::{Grid, Study};
use crate::text::Span;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "ragged-rows",
        severity: Severity::Warning,
        what: "A row of the drawn map has another number of places than the others. With a place too many it is an error, since \
               nobody knows then which sections are meant.",
        why: "A name that was left out or typed twice shifts every section behind it, and products go on the wrong places.",
        mend: "Write `.` where nothing is on the panel, so that all rows have as many places.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay           |
    | clove  bay    cumin  bare   |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    .      |
    | clove  bay    cumin  bare   |
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for grid in study.grids.iter().filter(|_| !study.map_broken) {
        let usual = grid.usual_places();
        let ragged = grid.places.iter().enumerate().filter(|&(_, &places)| places != usual);
        findings.extend(ragged.map(|(row, &places)| finding(study, grid, (row, places), usual)));
    }
}

fn finding(study: &Study, grid: &Grid, (row, places): (usize, usize), usual: usize) -> Finding {
    let in_row = study
        .sections
        .iter()
        .filter(|section| section.row == Some(grid.first_row + row))
        .map(|section| section.span);
    let span = in_row.reduce(Span::to).unwrap_or(grid.span);
    let message = format!("row {} has {}, the others have {usual}", row + 1, count(places, "place"));
    let help = if places < usual {
        "write `.` for a place where nothing is on the panel"
    } else {
        "take out the place that is too many, or write `.` in the other rows"
    };
    // Beyond the others nothing is asked of a place, not even whether it lies on the panel, so it cannot stay.
    let finding = if places < usual {
        Finding::warning(CHECK.page.code, span, message)
    } else {
        Finding::error(CHECK.page.code, span, message)
    };
    finding.help(help).about("map")
}

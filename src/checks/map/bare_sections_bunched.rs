//! Bare sections that all lie in one part of the panel.

use super::sections::{about, codes, drawn, hang_together, middles, of, understood};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::study::{Section, Study, Treatment};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "bare-sections-bunched",
        severity: Severity::Warning,
        what: "All bare sections touch each other, or lie in one half of the panel.",
        why: "They then show how that part of the panel ages, and products elsewhere are compared with it.",
        mend: "Spread the bare sections: one in each region of the panel.",
        bad: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bare   clove  bay    cumin  |
    | bare   cumin  clove  bay    |
    | bare   bay    cumin  clove  |
",
        good: "map  sections 166 x 116 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    let bare = of(study, Treatment::Bare);
    if bare.len() < 2 || bare.len() == study.sections.len() || !understood(study) {
        return;
    }
    let Some(place) = bunched(study, &bare) else { return };
    let message = format!("the bare sections {} {place}", codes(&bare));
    let finding = Finding::warning(CHECK.page.code, bare[0].span, message)
        .help("exchange some of them with products, so that each region of the panel has one");
    findings.push(about(finding, &bare).about("bare"));
}

fn bunched(study: &Study, bare: &[&Section]) -> Option<&'static str> {
    let all: Vec<&Section> = study.sections.iter().collect();
    // Which names a half: a section of the middle row or place belongs to neither.
    let (middle_x, middle_y) = centre(&middles(&all)?)?;
    let spots = middles(bare)?;
    if spots.iter().all(|&(x, _)| x < middle_x - 1e-6) {
        Some("all lie in the left half")
    } else if spots.iter().all(|&(x, _)| x > middle_x + 1e-6) {
        Some("all lie in the right half")
    } else if spots.iter().all(|&(_, y)| y < middle_y - 1e-6) {
        Some("all lie in the upper half")
    } else if spots.iter().all(|&(_, y)| y > middle_y + 1e-6) {
        Some("all lie in the lower half")
    } else {
        drawn(bare).filter(|places| hang_together(places)).map(|_| "all touch each other")
    }
}

/// The middle between the outermost of some places.
fn centre(places: &[(f64, f64)]) -> Option<(f64, f64)> {
    let middle = |values: Vec<f64>| {
        let low = values.iter().copied().reduce(f64::min)?;
        let high = values.iter().copied().reduce(f64::max)?;
        Some(f64::midpoint(low, high))
    };
    let middle_x = middle(places.iter().map(|place| place.0).collect())?;
    Some((middle_x, middle(places.iter().map(|place| place.1).collect())?))
}

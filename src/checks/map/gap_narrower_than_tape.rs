//! Gaps between sections that do not take the tape.

use super::sections::mm;
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::layout::{SLACK_MM, distance, near_pairs, overlap};
use crate::study::{Outline, Section, Study};
use crate::text::Span;
use crate::units::Quantity;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "gap-narrower-than-tape",
        severity: Severity::Warning,
        what: "The tape is wider than the gap between sections.",
        why: "It would lie on the sections: they come out smaller than the map says, and a foot may stand on an edge of product.",
        mend: "Widen the gap, or take narrower tape.",
        bad: "map  sections 166 x 116 mm  gap 4 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
",
        good: "map  sections 166 x 116 mm  gap 6 mm  from left 44 mm, top 44 mm
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
    let lines = study.prep.iter().filter_map(|step| step.line_width.as_ref());
    let Some(widest) = lines.max_by(|a, b| a.value.mm().total_cmp(&b.value.mm())) else { return };
    let tape = (widest.value.mm(), widest.span);
    findings.extend(between_drawn(study, tape));
    between_named(study, tape, findings);
}

fn between_drawn(study: &Study, (width, span): (f64, Span)) -> Option<Finding> {
    let grid = study
        .grid()
        .filter(|grid| !study.map_broken && !grid.rack && grid.places.iter().sum::<usize>() > 1)?;
    let gap = grid.gap.map_or(0.0, Quantity::mm);
    if gap >= width - SLACK_MM {
        return None;
    }
    let message = match grid.gap {
        Some(_) => format!("a gap of {} has no room for tape {} wide", mm(gap), mm(width)),
        None => format!("the map has no gap, and the tape is {} wide", mm(width)),
    };
    let finding = Finding::warning(CHECK.page.code, grid.span, message)
        .related(span, "the tape is this wide")
        .help(format!("write `gap {}` or more in the line of `map`", mm(width)));
    Some(finding.about("map"))
}

fn between_named(study: &Study, tape: (f64, Span), findings: &mut Vec<Finding>) {
    let outlines: Vec<Option<&Outline>> =
        study.sections.iter().map(|section| section.outline.as_ref()).collect();
    if study.sections.iter().all(|section| section.row.is_some()) {
        return;
    }
    let mut told = vec![false; outlines.len()];
    for (earlier, later) in near_pairs(&outlines, tape.0) {
        let named = study.sections[later].row.is_none();
        if let Some(gap) =
            narrow(outlines[earlier], outlines[later], tape.0).filter(|_| named && !told[later])
        {
            told[later] = true;
            findings.push(finding(&study.sections[earlier], &study.sections[later], gap, tape));
        }
    }
}

/// The gap between two outlines where it is narrower than the tape; overlaps have a check of their own.
fn narrow(a: Option<&Outline>, b: Option<&Outline>, width: f64) -> Option<f64> {
    let (a, b) = (a?, b?);
    let gap = distance(a, b);
    (gap < width - SLACK_MM && overlap(a, b) <= 0.0).then_some(gap)
}

fn finding(earlier: &Section, later: &Section, gap: f64, (width, span): (f64, Span)) -> Finding {
    let message = format!(
        "the gap of {} between `{}` and `{}` has no room for tape {} wide",
        mm(gap),
        earlier.code,
        later.code,
        mm(width)
    );
    Finding::warning(CHECK.page.code, later.span, message)
        .related(earlier.span, format!("`{}` is here", earlier.code))
        .related(span, "the tape is this wide")
        .help(format!("move `{}` until at least {} are free", later.code, mm(width)))
        .about(&later.code)
        .about(&earlier.code)
        .about("map")
}

//! Sections that cannot hold the foot of a gauge that reads them.

use super::sections::{about, codes, mm};
use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::layout::holds;
use crate::study::{Gauge, Outline, Section, Study};

/// Room between the foot and the tape on each side, mm. Common practice, no source.
const MARGIN_MM: f64 = 5.0;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "smaller-than-foot",
        severity: Severity::Warning,
        what: "A section does not hold the foot of a gauge with 5 mm to spare on each side. It is an error where the foot itself does not fit.",
        why: "A foot that stands on tape or on the neighbour tilts, reads low, and carries one product onto another.",
        mend: "Make the sections larger, or give fewer of them. The foot may lie or stand.",
        bad: "map  sections 115 x 50 mm  gap 18 mm  from left 44 mm, top 44 mm
    | bay    clove  bare   cumin  |
    | bare   cumin  bay    clove  |
    | clove  bay    cumin  bare   |
",
        good: "map  sections 120 x 55 mm  gap 18 mm  from left 44 mm, top 44 mm
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
    for (gauge, foot) in study.gauges.iter().filter(|gauge| is_used(study, gauge)).filter_map(with_foot) {
        let small =
            |section: &&Section| section.outline.as_ref().is_some_and(|outline| !has_room(outline, foot));
        let small: Vec<&Section> = study.sections.iter().filter(small).collect();
        let (drawn, named): (Vec<&Section>, Vec<&Section>) =
            small.into_iter().partition(|section| section.row.is_some());
        if !drawn.is_empty() {
            findings.push(finding(gauge, foot, &drawn));
        }
        findings.extend(named.into_iter().map(|section| finding(gauge, foot, &[section])));
    }
}

fn is_used(study: &Study, gauge: &Gauge) -> bool {
    let reads = |measure| gauge.reads.iter().any(|read| read.value == measure);
    study.rounds.iter().flat_map(|round| &round.reads).any(|plan| reads(plan.measure.value))
}

fn with_foot(gauge: &Gauge) -> Option<(&Gauge, (f64, f64))> {
    Some((gauge, gauge.foot.as_ref()?.value.mm()))
}

fn has_room(outline: &Outline, (width, height): (f64, f64)) -> bool {
    holds(outline, width + 2.0 * MARGIN_MM, height + 2.0 * MARGIN_MM)
}

fn finding(gauge: &Gauge, foot: (f64, f64), sections: &[&Section]) -> Finding {
    let name = &gauge.name.value;
    let fits =
        sections.iter().all(|section| section.outline.as_ref().is_some_and(|o| holds(o, foot.0, foot.1)));
    let severity = if fits { Severity::Warning } else { Severity::Error };
    let verb = if sections.len() == 1 { "is" } else { "are" };
    let message = if fits {
        format!(
            "{} {verb} too small for the foot of `{name}` with 5 mm to spare on each side",
            codes(sections)
        )
    } else {
        format!("{} {verb} smaller than the foot of `{name}`", codes(sections))
    };
    let (width, height) = (mm(foot.0 + 2.0 * MARGIN_MM), mm(foot.1 + 2.0 * MARGIN_MM));
    let shown = gauge.foot.as_ref().map_or_else(String::new, |foot| foot.value.to_string());
    let finding = Finding::new(CHECK.page.code, severity, sections[0].span, message)
        .related(gauge.name.span, format!("its foot is {shown}"))
        .help(format!("make the sections at least {width} by {height}, lying or standing"));
    about(finding, sections).about(name)
}

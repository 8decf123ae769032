//! Readings that use up their place: more of them are planned than there is room for.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity, count};
use crate::study::{Cost, Gauge, MeasureId, Outline, Study};

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "no-room-for-readings",
        severity: Severity::Error,
        what: "A gauge destroys the place that it reads, or marks the spot, and more readings are planned on one \
               place than it has room for.",
        why: "A second reading on a place that the first has destroyed reads the damage.",
        mend: "Plan fewer readings, draw more patches for them, or move less far.",
        bad: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
              two readings agree within 0.4 GU\n    certified   2026-02-01 for 12 months\n    destroys    the patch\n",
        good: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
               two readings agree within 0.4 GU\n    certified   2026-02-01 for 12 months\n    \
               marks       the spot, move 30 mm\n",
        source: "common practice, no source",
    },
    run,
};

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let study = context.study;
    for gauge in study.gauges.iter().filter(|gauge| !gauge.broken) {
        let Some(cost) = gauge.cost else { continue };
        for read in &gauge.reads {
            findings.extend(too_many(study, gauge, cost, read.value));
        }
    }
}

fn too_many(study: &Study, gauge: &Gauge, cost: Cost, measure: MeasureId) -> Option<Finding> {
    let planned: u32 = study.rounds_with_ids().map(|(id, _)| study.planned_readings(id, measure)).sum();
    let room = study.places_of(measure).filter_map(|(_, place)| room(cost, place.outline.as_ref())).min()?;
    if planned as usize <= room {
        return None;
    }
    let (name, by) = (&study.measure(measure).name.value, &gauge.name.value);
    let what = match cost {
        Cost::Destroys => "destroys the place that it reads".to_owned(),
        Cost::Marks(move_by) => format!("marks its spot and is moved by {move_by}"),
    };
    let message = format!(
        "`{name}` is read {} on each place, which has room for {room}: `{by}` {what}",
        count(planned as usize, "time")
    );
    let finding = Finding::error(CHECK.page.code, gauge.name.span, message)
        .help("plan fewer readings, or draw a place for each: a patch by itself, as `pull-1` and `pull-2`");
    Some(finding.about(by).about(name))
}

/// How many readings a place has room for; `None` where its shape is not known.
fn room(cost: Cost, outline: Option<&Outline>) -> Option<usize> {
    let Cost::Marks(move_by) = cost else { return Some(1) };
    let (left, top, right, bottom) = outline?.bounds();
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a length over a length, from 0 up"
    )]
    let along = |length: f64| (length / move_by.mm() + 1e-9).floor().clamp(0.0, 1e4) as usize;
    Some(along(right - left) * along(bottom - top))
}

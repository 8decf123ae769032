//! The panel itself: scatter, trend and neighbours before anything went on, and whether the place acts on what is compared.

mod bias;
mod gauge;
mod leaders;
mod moved;
mod neighbours;
mod place;
mod removed;
mod split;

use super::context::Context;
use super::frame::{Frame, reference_round};
use super::model::{Drift, MeasureAnalysis, Missing, PanelAnalysis, PanelMeasure, SectionSeries, Unsaid};
use crate::readings::Cell;
use crate::stats::solved::Solved;
use crate::study::{MeasureKind, Outline, Reference, RoundId, SectionId, Treatment, Unit};
use neighbours::Neighbours;

pub(super) use bias::fold;

/// A section before anything went on.
struct Start<'a> {
    section: SectionId,
    outline: Option<&'a Outline>,
    cell: &'a Cell,
    mean: f64,
}

/// What can be said of the panel; `shown` is the measure and the place of the round that is shown in full.
pub(super) fn panel(
    context: &Context<'_>,
    frames: &[Frame],
    measures: &[MeasureAnalysis],
    shown: Option<(usize, usize)>,
    solved: &mut Solved,
) -> PanelAnalysis {
    let baseline = reference_round(context.study, Reference::Baseline);
    let neighbours = Neighbours::of(context.study);
    let on_panel = measures.iter().zip(frames).filter(|(_, frame)| is_read_on_panel(context, frame));
    let drifts: Vec<Drift> = frames.iter().filter_map(|frame| gauge::drift(context, frame)).collect();
    let biases = frames.iter().filter_map(|frame| bias::biases(context.study, frame, &drifts));
    PanelAnalysis {
        biases: biases.collect(),
        baseline,
        measures: on_panel
            .map(|(measure, frame)| {
                let at =
                    shown.filter(|&(at, _)| measures[at].measure == measure.measure).map(|(_, place)| place);
                PanelMeasure {
                    // A piece has several sections, and readings of all of them.
                    changes: at
                        .filter(|_| !matches!(context.study.unit(frame.measure), Unit::Piece(_)))
                        .and_then(|place| split::of_changes(frame, measure, place)),
                    ..of_measure(context, frame, &measure.sections, baseline, &neighbours)
                }
            })
            .collect(),
        beside: shown.map_or_else(Vec::new, |(measure, place)| {
            if !is_on_panel(context, &frames[measure]) {
                return Vec::new();
            }
            moved::beside(context.study, &measures[measure], place, &neighbours)
        }),
        moved: shown
            .filter(|&(measure, _)| is_on_panel(context, &frames[measure]))
            .and_then(|(measure, place)| moved::moved(context.study, &measures[measure], place, solved)),
        drifts,
        people: frames.iter().filter_map(|frame| gauge::people(context, frame.measure)).collect(),
        removed: frames.iter().filter_map(|frame| removed::removed(context, frame.measure)).collect(),
    }
}

fn is_on_panel(context: &Context<'_>, frame: &Frame) -> bool {
    context.study.measure(frame.measure).home.is_none()
}

fn is_read_on_panel(context: &Context<'_>, frame: &Frame) -> bool {
    let read = matches!(context.study.measure(frame.measure).kind, MeasureKind::Read);
    read && is_on_panel(context, frame)
}

fn of_measure(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    baseline: Option<RoundId>,
    neighbours: &Neighbours,
) -> PanelMeasure {
    let start = start(context, frame, series, baseline);
    let start = start.as_deref().map_err(|why| *why);
    let trend = start.and_then(|start| place::trend(context.study, start));
    PanelMeasure {
        measure: frame.measure,
        changes: None,
        seed: place::seed(frame.measure),
        split: start.and_then(|start| split::split(context.readings, start)),
        trend,
        places: start.ok().filter(|_| trend.is_ok()).map_or_else(Vec::new, place::levels),
        likeness: start.and_then(|start| place::likeness(context.study, frame.measure, start, neighbours)),
    }
}

/// Every section with a level at the baseline; those that are not even prepared stand for another surface.
fn start<'a>(
    context: &Context<'a>,
    frame: &Frame,
    series: &[SectionSeries],
    baseline: Option<RoundId>,
) -> Result<Vec<Start<'a>>, Unsaid> {
    let round = baseline.ok_or(Unsaid::NoBaseline)?;
    let place = frame.place(round).ok_or(Unsaid::NoBaseline)?;
    let prepared = series.iter().filter(|series| series.treatment != Treatment::Untouched);
    let of = |series: &SectionSeries| {
        let mean = series.at[place].numbers.level.ok()?.mean;
        let cell = context.cell(frame.measure, round, series.section)?;
        let outline = context.study.section(series.section).outline.as_ref();
        Some(Start { section: series.section, outline, cell, mean })
    };
    let start: Vec<Start<'a>> = prepared.filter_map(of).collect();
    let below = || series.iter().any(|series| series.at[place].numbers.level == Err(Missing::BelowGauge));
    match start.is_empty() {
        true if below() => Err(Unsaid::BelowGauge),
        true => Err(Unsaid::NotRead),
        false => Ok(start),
    }
}

//! Everything about one measure: sections, treatments, and the tables of every round.

use super::basis::basis;
use super::context::Context;
use super::frame::Frame;
use super::groups::{self, Pick, Sample};
use super::model::{
    BareTable, GroupValue, LeadTable, MeasureAnalysis, NoTable, Question, Role, RoundAnalysis, RoundState,
    SectionSeries,
};
use super::{against_bare, lead, sections, spent};
use crate::stats::solved::Solved;
use crate::study::Treatment;

/// The two tables of a round.
pub(super) type Tables = (Result<BareTable, NoTable>, Result<LeadTable, NoTable>);

/// The analysis of a measure.
pub(super) fn analyse(
    context: &Context<'_>,
    frame: &Frame,
    question: Option<Question>,
    solved: &mut Solved,
) -> MeasureAnalysis {
    let series = sections::series(context, frame);
    let rounds = (0..frame.rounds.len())
        .map(|place| round(context, frame, &series, question, place, solved))
        .collect();
    MeasureAnalysis {
        measure: frame.measure,
        reference: frame.reference.map(|place| frame.rounds[place].0),
        groups: groups::series(context.study, &series, &frame.rounds),
        rounds,
        spent: spent::table(context, frame, &series),
        within_cells: frame.within,
        sections: series,
    }
}

fn round(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    question: Option<Question>,
    place: usize,
    solved: &mut Solved,
) -> RoundAnalysis {
    let (round, state) = frame.rounds[place];
    let treatments = groups::treatments(context.study);
    let of = |pick: Pick| groups::samples(&treatments, series, place, pick);
    let (levels, changes) = (of(groups::level), of(groups::change));
    let deciding = question.is_some_and(|question| {
        question.declared && (question.measure, question.round) == (frame.measure, round)
    });
    let role = match frame.reference {
        Some(reference) if place <= reference => Role::UpToReference,
        _ if deciding => Role::Deciding,
        _ => Role::FurtherLook,
    };
    let (to_bare, lead) = tables(context, frame, series, place, groups::change, solved);
    RoundAnalysis {
        round,
        state,
        role,
        level_spread: groups::spread(&levels),
        bare_level: bare(&levels),
        bare_change: bare(&changes),
        to_bare,
        lead,
    }
}

fn bare(samples: &[Sample]) -> Option<GroupValue> {
    let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare)?;
    groups::value(bare, groups::spread(samples))
}

/// The tables of the round at `place`, made of the change that `pick` takes.
pub(super) fn tables(
    context: &Context<'_>,
    frame: &Frame,
    series: &[SectionSeries],
    place: usize,
    pick: Pick,
    solved: &mut Solved,
) -> Tables {
    let samples = groups::samples(&groups::treatments(context.study), series, place, pick);
    if let Some(none) = no_table(frame, place, &samples) {
        return (Err(none), Err(none));
    }
    let measure = context.study.measure(frame.measure);
    let basis = basis(&samples, level(series, place));
    let to_bare = against_bare::table(&samples, &basis, measure, solved);
    (to_bare, lead::table(&samples, &basis, measure, solved))
}

fn no_table(frame: &Frame, place: usize, samples: &[Sample]) -> Option<NoTable> {
    match frame.rounds[place].1 {
        _ if frame.reference.is_some_and(|reference| place <= reference) => Some(NoTable::UpToReference),
        RoundState::ToCome => Some(NoTable::ToCome),
        RoundState::Missed => Some(NoTable::RoundMissed),
        RoundState::Read if samples.iter().all(|sample| sample.values.is_empty()) => Some(NoTable::NoChange),
        RoundState::Read => None,
    }
}

/// The largest section mean at a round, without its sign.
fn level(series: &[SectionSeries], place: usize) -> f64 {
    let levels = series.iter().filter_map(|section| section.at[place].numbers.level.ok());
    levels.map(|level| level.mean.abs()).fold(0.0, f64::max)
}

//! Numbers from a study and its readings; the one place where numbers are made.
//!
//! Every section is reduced to one number for each question, and products are compared by those
//! numbers with the section as the unit: readings on one section are not independent of each other.

mod against_bare;
mod answer;
mod basis;
mod context;
mod cost;
mod frame;
mod further;
mod groups;
mod lead;
mod measure;
mod model;
mod sections;
mod spent;
mod word;

pub use model::{
    AgainstBare, Analysis, Answer, BareRow, BareTable, Basis, CameBack, GroupAt, GroupSeries, GroupValue,
    Interval, Known, LeadRow, LeadTable, MeasureAnalysis, Missing, Moment, MonthlyCost, NoCost, NoTable,
    ProductCost, Question, Restored, Role, RoundAnalysis, RoundState, ScatterFrom, SectionAt, SectionCost,
    SectionMean, SectionNumbers, SectionSeries, SectionSpent, Side, Spent, Standing, Strength, Uncertain,
    Uncertainty, Word,
};

use crate::readings::{self, Readings};
use crate::stats::solved::Solved;
use crate::study::{MeasureId, Study};
use context::Context;
use frame::Frame;
use jiff::civil::Date;

/// Computes every number of a study from its readings, as of a day.
///
/// The day decides only which rounds without readings are missed and which are to come; without one none is overdue.
pub fn analyse(study: &Study, readings: &Readings, as_of: Option<Date>) -> Analysis {
    let context = Context::new(study, readings, as_of);
    let frames: Vec<Frame> = study.measures_with_ids().map(|(id, _)| Frame::new(&context, id)).collect();
    let question = answer::question(study, &frames);
    let mut solved = Solved::default();
    let mut measures: Vec<MeasureAnalysis> =
        frames.iter().map(|frame| measure::analyse(&context, frame, question, &mut solved)).collect();
    let further_looks = further::adjust(&mut measures);
    let months_by = months_by(question, &measures);
    Analysis {
        as_of,
        applied: spent::applied(study),
        question,
        answer: answer::answer(&context, question, &measures),
        costs: cost::costs(study, months_by.and_then(|id| measures.get(id.index()))),
        months_by,
        with_left_out: restored(&context, &frames, question, &measures, &mut solved),
        outliers: readings::outliers(study, readings),
        further_looks,
        measures,
    }
}

fn months_by(question: Option<Question>, measures: &[MeasureAnalysis]) -> Option<MeasureId> {
    let asked = question.and_then(|question| measures.get(question.measure.index()));
    let limited = |measure: &&MeasureAnalysis| measure.spent.is_some();
    asked.filter(limited).or(measures.iter().find(limited)).map(|measure| measure.measure)
}

/// The tables of the headline with all left-out readings put back, so that nobody need trust the leaving out.
fn restored(
    context: &Context<'_>,
    frames: &[Frame],
    question: Option<Question>,
    measures: &[MeasureAnalysis],
    solved: &mut Solved,
) -> Option<Restored> {
    let left_out = context.left_out();
    let question = question.filter(|_| left_out > 0)?;
    let frame = frames.get(question.measure.index())?;
    let place = frame.place(question.round)?;
    let series = &measures.get(question.measure.index())?.sections;
    let (to_bare, lead) =
        measure::tables(context, frame, series, place, groups::change_with_left_out, solved);
    Some(Restored { left_out, to_bare, lead })
}

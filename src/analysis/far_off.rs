//! The comparison of the headline once more, without what lies far off in it.

use super::context::Context;
use super::frame::Frame;
use super::level::with_blanks;
use super::model::{Question, WithoutFarOff};
use super::{groups, measure, sections};
use crate::readings::{Evidence, Outliers, Readings, Suspect, far_sections};
use crate::stats::solved::Solved;
use crate::study::{MeasureKind, Study, Treatment};
use jiff::civil::Date;

/// `None` where nothing of a product lies far off in the deciding round or its reference.
pub(super) fn without(
    (study, readings, as_of): (&Study, &Readings, Option<Date>),
    frame: &Frame,
    question: Question,
    outliers: &Outliers,
    solved: &mut Solved,
) -> Option<WithoutFarOff> {
    let far = far_off(study, readings, frame, question, outliers);
    if far.is_empty() {
        return None;
    }
    let rest = readings.without(&far);
    let context = Context::new(study, &rest, as_of);
    let frame = with_blanks(&context, Frame::new(&context, question.measure));
    let (place, series) = (frame.place(question.round)?, sections::series(&context, &frame));
    let by = frame.compared();
    let (_, lead) = measure::tables(&context, &frame, &series, place, (by, groups::compared(by)), solved);
    let cell = |&(at, value): &(usize, Option<f64>)| readings.cells().get(at).map(|cell| (*cell, value));
    Some(WithoutFarOff { far: far.iter().filter_map(cell).collect(), lead })
}

/// Cells of products, each with the one value that stands apart or none where it is the whole of them.
fn far_off(
    study: &Study,
    readings: &Readings,
    frame: &Frame,
    question: Question,
    outliers: &Outliers,
) -> Vec<(usize, Option<f64>)> {
    let rounds = [Some(question.round), frame.reference.map(|place| frame.rounds[place].0)];
    let parts = match &study.measure(frame.measure).kind {
        MeasureKind::Made(made) => made.parts.clone(),
        MeasureKind::Rating(_) => Vec::new(),
        MeasureKind::Read | MeasureKind::Part(_) => vec![frame.measure],
    };
    let counts = |at: usize| {
        readings.cells().get(at).is_some_and(|cell| {
            parts.contains(&cell.measure)
                && rounds.contains(&Some(cell.round))
                && matches!(study.section(cell.section).treatment, Treatment::Product(_))
        })
    };
    let found = outliers.marks.iter().filter(|mark| mark.evidence == Evidence::Finding && counts(mark.cell));
    let mut far: Vec<(usize, Option<f64>)> = found
        .map(|mark| match mark.suspect {
            Suspect::One(value) => (mark.cell, Some(value)),
            Suspect::Pair(..) | Suspect::Ends(..) => (mark.cell, None),
        })
        .collect();
    for section in far_sections(study, readings).iter().filter(|section| counts(section.cell)) {
        far.retain(|(cell, _)| *cell != section.cell);
        far.push((section.cell, None));
    }
    far.sort_by_key(|(cell, _)| *cell);
    far
}

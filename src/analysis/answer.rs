//! The headline: what the tables of the deciding round say, as a case and not as a sentence.

use super::context::Context;
use super::frame::Frame;
use super::model::{
    Against, Answer, ControlTable, LeadTable, MeasureAnalysis, NoTable, Question, Role, RoundAnalysis,
    RoundState, Side, Standing, Word,
};
use crate::study::{MeasureKind, ProductId, RoundId, Study, Treatment};

/// The measure and round of `decide by`; without it the first measure with a round after its reference, else the first
/// that is read on the coat, at the last such round that was read, or at the last one planned where none was read.
pub(super) fn question(study: &Study, frames: &[Frame]) -> Option<Question> {
    let declared = study.decide.as_ref().and_then(|decide| decide.measure.zip(decide.round));
    if let Some((measure, round)) = declared {
        return Some(Question { measure, round, declared: true });
    }
    let judged = |frame: &&Frame| !matches!(study.measure(frame.measure).kind, MeasureKind::Part(_));
    let last = |frame: &Frame| {
        let after: Vec<_> = (0..frame.rounds.len())
            .filter(|&place| frame.compares(study, place))
            .map(|place| frame.rounds[place])
            .collect();
        let read = after.iter().rev().find(|(_, state)| *state == RoundState::Read);
        let &(round, _) = read.or(after.last())?;
        Some(Question { measure: frame.measure, round, declared: false })
    };
    // A reference says more of a product than a level alone, in which what lay under it still is.
    let of = |known| frames.iter().filter(judged).filter(move |frame| frame.reference.is_some() == known);
    of(true).chain(of(false)).find_map(last)
}

/// The headline for a question.
pub(super) fn answer(
    context: &Context<'_>,
    question: Option<Question>,
    measures: &[MeasureAnalysis],
    to_benchmark: Option<&Result<ControlTable, NoTable>>,
) -> Answer {
    if !context.study.places().any(|(_, place)| matches!(place.treatment, Treatment::Product(_))) {
        return Answer::NoProducts;
    }
    let Some(question) = question else { return Answer::NoQuestion };
    let Some(measure) = measures.get(question.measure.index()) else { return Answer::NoQuestion };
    let Some(round) = measure.round(question.round) else { return Answer::NoQuestion };
    match round.state {
        RoundState::ToCome => Answer::Unfinished { latest: latest(measure) },
        RoundState::Missed => Answer::Missed { latest: latest(measure) },
        RoundState::Read => read(round, to_benchmark),
    }
}

fn latest(measure: &MeasureAnalysis) -> Option<RoundId> {
    let mut after = measure.rounds.iter().filter(|round| round.role != Role::UpToReference).rev();
    after.find(|round| round.state == RoundState::Read).map(|round| round.round)
}

fn read(round: &RoundAnalysis, to_benchmark: Option<&Result<ControlTable, NoTable>>) -> Answer {
    if round.to_bare.as_ref().err() == Some(&NoTable::Rating) {
        return Answer::Rated;
    }
    let none = [Some(NoTable::NoChange), Some(NoTable::UpToReference)];
    if none.contains(&round.to_bare.as_ref().err().copied()) {
        return Answer::NoChange;
    }
    Answer::Read {
        standing: standing(&round.lead),
        against_bare: against(&round.to_bare),
        against_benchmark: to_benchmark.map(against),
    }
}

fn standing(lead: &Result<LeadTable, NoTable>) -> Standing {
    let table = match lead {
        Ok(table) => table,
        Err(NoTable::NoDirection) => return Standing::NoDirection,
        Err(NoTable::OneProduct) => return Standing::OneProduct,
        Err(_) => return Standing::NoProductRead,
    };
    match &table.may_lead {
        Err(strength) => Standing::NotJudged(*strength),
        Ok(_) if table.all_alike == Some(true) => Standing::AllAlike,
        Ok(products) => match products.as_slice() {
            [leader] => Standing::OneLeader(*leader),
            some if some.len() < table.rows.len() => Standing::SeveralMayLead(some.to_vec()),
            _ => Standing::NoneSeparable,
        },
    }
}

fn against(table: &Result<ControlTable, NoTable>) -> Against {
    match table {
        Err(NoTable::NoBare | NoTable::BenchmarkNotPlaced) => Against::NoControl,
        Err(NoTable::BareNotRead | NoTable::BenchmarkNotRead) => Against::ControlNotRead,
        Err(_) => Against::NoProductRead,
        Ok(table) => words(table),
    }
}

fn words(table: &ControlTable) -> Against {
    let mut rows: Vec<(ProductId, Side, Word)> = Vec::new();
    let mut unsaid = None;
    for row in &table.rows {
        let Treatment::Product(product) = row.treatment else { continue };
        match row.counted() {
            Ok(word) => rows.push((product, row.side, word)),
            Err(strength) => unsaid = unsaid.or(Some(strength)),
        }
    }
    if rows.is_empty() {
        return unsaid.map_or(Against::NoProductRead, Against::NotJudged);
    }
    if unsaid.is_none() && rows.iter().all(|&(_, _, word)| word == Word::Alike) {
        return Against::AllAlike;
    }
    let told = rows.iter().filter(|(_, _, word)| matches!(word, Word::Seen | Word::Measurable));
    let on = |side| told.clone().filter(move |row| row.1 == side).map(|row| row.0).collect::<Vec<_>>();
    let (better, worse, different) = (on(Side::Better), on(Side::Worse), on(Side::Neither));
    if better.is_empty() && worse.is_empty() && different.is_empty() {
        return Against::NoneToldApart;
    }
    Against::Told { better, worse, different }
}

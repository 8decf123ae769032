//! Rounds at which products stood in another order than at the one that decides: every pair at every other round, as one family.

use super::context::Context;
use super::frame::Frame;
use super::measure;
use super::model::{MeasureAnalysis, NoTable, PairRow, PairTable, Side, Turned, TurnedRow, Word};
use crate::study::{Direction, ProductId};

/// The level of all pairs at all other rounds together.
const LEVEL: f64 = 0.05;

/// The pairs that are told apart at another round against the order of the round at `place`: two that are told apart there the other
/// way, or one that may lead there behind one that may not.
///
/// All pairs of every other round after the reference that was read are tested: simultaneous at each round by the procedure of the
/// table of pairs, and over the rounds by Bonferroni. `None` where the measure has no better direction, or nothing else was judged.
pub(super) fn turned(
    context: &Context<'_>,
    frame: &Frame,
    analysed: &MeasureAnalysis,
    (place, between): (usize, Option<&Result<PairTable, NoTable>>),
) -> Option<Turned> {
    let directed = context.study.measure(frame.measure).direction != Direction::Neither;
    let between = between?.as_ref().ok().filter(|_| directed)?;
    let here = analysed.rounds.get(place)?;
    let lead = here.lead.as_ref().ok();
    let may_lead = lead.and_then(|lead| lead.may_lead.as_ref().ok()).cloned().unwrap_or_default();
    let whole = lead.is_none_or(|lead| may_lead.len() == lead.rows.len());
    let against = |pair: &PairRow| {
        let leads = |id: &ProductId| !whole && may_lead.contains(id);
        leads(&pair.other) && !leads(&pair.one)
            || between
                .rows
                .iter()
                .filter(|row| is_told(row))
                .map(ahead_first)
                .any(|row| (row.one, row.other) == (pair.other, pair.one))
    };
    let mut found = Turned::default();
    let mut told = Vec::new();
    for at in (0..analysed.rounds.len()).filter(|&at| at != place) {
        let Ok(pairs) = measure::between(context, frame, &analysed.sections, at) else { continue };
        if pairs.rows.iter().all(|row| row.p.is_none()) {
            continue;
        }
        found.rounds.push(analysed.rounds[at].round);
        found.pairs += pairs.rows.len();
        let rows = pairs.rows.iter().filter(|row| is_told(row)).map(ahead_first);
        told.extend(rows.filter(|row| against(row)).map(|row| (analysed.rounds[at].round, row)));
    }
    let rounds = found.rounds.len() as f64;
    let rows = told.into_iter().filter_map(|(round, pair)| {
        let p = (pair.p? * rounds).min(1.0);
        (p < LEVEL).then_some(TurnedRow { round, pair, p })
    });
    found.rows = rows.collect();
    (!found.rounds.is_empty()).then_some(found)
}

fn is_told(row: &PairRow) -> bool {
    matches!(row.word, Ok(Word::Seen | Word::Measurable))
}

/// The pair with the product that is ahead first.
fn ahead_first(row: &PairRow) -> PairRow {
    if row.side == Side::Worse { row.turned() } else { *row }
}

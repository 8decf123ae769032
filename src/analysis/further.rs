//! Further looks: the p values of all rounds and measures that do not decide, adjusted together after Holm.

use super::against_control::CONFIDENCE;
use super::model::{ControlRow, ControlTable, MeasureAnalysis, PairRow, RatingRow, Role, Word};
use crate::stats::dunnett::against_control;
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, holm};
use crate::study::Measure;

/// The level of all further looks together.
const LEVEL: f64 = 0.05;

/// Writes the adjusted p value beside every p value of a further look and returns how many there are.
///
/// `shown` is one more table, that against the benchmark, where its round is a further look.
/// Holm (1979), Scandinavian Journal of Statistics 6, 65-70.
pub(super) fn adjust(measures: &mut [MeasureAnalysis], mut shown: Option<&mut ControlTable>) -> usize {
    let mut found: Vec<f64> = further(measures).filter_map(|row| row.p).collect();
    found.extend(marks(measures).filter_map(|row| row.p).map(|p| p.p));
    found.extend(pairs(measures).filter_map(|row| row.p));
    found.extend(shown.iter().flat_map(|table| &table.rows).filter_map(|row| row.p));
    let mut adjusted = holm::adjusted(&found).unwrap_or_default().into_iter();
    for row in further(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    for row in marks(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    for row in pairs(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    let of_shown = shown.iter_mut().flat_map(|table| table.rows.iter_mut());
    for row in of_shown.filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    found.len()
}

/// The rows of ratings that do not decide.
fn marks(measures: &mut [MeasureAnalysis]) -> impl Iterator<Item = &mut RatingRow> {
    let tables = measures.iter_mut().filter_map(|measure| measure.rating.as_mut());
    tables.filter(|table| table.role == Role::FurtherLook).flat_map(|table| table.rows.iter_mut())
}

/// The pairs of products at further looks at levels.
fn pairs(measures: &mut [MeasureAnalysis]) -> impl Iterator<Item = &mut PairRow> {
    let rounds = measures.iter_mut().flat_map(|measure| measure.rounds.iter_mut());
    rounds.filter_map(|round| round.pairs.as_mut()).flat_map(|table| table.rows.iter_mut())
}

fn further(measures: &mut [MeasureAnalysis]) -> impl Iterator<Item = &mut ControlRow> {
    let rounds = measures.iter_mut().flat_map(|measure| measure.rounds.iter_mut());
    let further = rounds.filter(|round| round.role == Role::FurtherLook);
    further.filter_map(|round| round.to_bare.as_mut().ok()).flat_map(|table| table.rows.iter_mut())
}

/// Writes the word that still holds when all `looks` are counted beside every word of a table.
///
/// *Measurable* holds by the p value after Holm. *Alike* and *seen* are statements about their limit, and hold where
/// the p value of the difference from that limit, times the number of looks (Bonferroni), stays below 5 %.
pub(super) fn count_looks(table: &mut ControlTable, looks: usize, measure: &Measure, solved: &mut Solved) {
    let Some(spread) = table.basis.spread else { return };
    let from_limit = |row: &ControlRow| {
        let limit = match row.word {
            Ok(Word::Alike) => measure.alike.as_ref(),
            Ok(Word::Seen) => measure.seen.as_ref(),
            _ => None,
        };
        let limit = limit.map_or(0.0, |limit| limit.value);
        GroupMean { mean: row.change - limit.copysign(row.difference), n: row.n }
    };
    let shifted: Vec<GroupMean> = table.rows.iter().map(from_limit).collect();
    let Some(judged) = against_control(&shifted, table.control.group(), spread, CONFIDENCE, solved) else {
        return;
    };
    for (row, judged) in table.rows.iter_mut().zip(judged) {
        let Ok(word) = row.word else { continue };
        let measurable = row.p_holm.is_some_and(|p| p < LEVEL);
        row.over_all = Some(match word {
            Word::Alike | Word::Seen if judged.p * (looks as f64) < LEVEL => word,
            Word::NotSettled => Word::NotSettled,
            _ if measurable => Word::Measurable,
            _ => Word::NotSettled,
        });
    }
}

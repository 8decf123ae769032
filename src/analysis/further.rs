//! Further looks: the p values of all rounds and measures that do not decide, adjusted together after Holm.

use super::against_blank::Shares;
use super::against_control::{CONFIDENCE, judged};
use super::basis::DEGREES_FOR_WORDS;
use super::model::{
    ControlRow, ControlTable, Farther, MeasureAnalysis, PairRow, RatingRow, Role, ScatterOf, Word,
};
use super::sample::Sample;
use super::{by_piece, pieces};
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, games_howell, holm, summary, tukey};
use crate::study::{Measure, Treatment};

/// The level of all further looks together.
const LEVEL: f64 = 0.05;

/// Writes the adjusted p value beside every p value of a further look and returns how many there are.
///
/// A row with a side that was stopped counts with p = 1: it raises the number of looks, whatever came out, and decides nothing.
/// `shown` are more tables, that against the benchmark and the like, where their round is a further look.
/// Holm (1979), Scandinavian Journal of Statistics 6, 65-70.
pub(super) fn adjust(
    measures: &mut [MeasureAnalysis],
    shown: &mut [(&mut ControlTable, Treatment)],
) -> usize {
    let mut found: Vec<f64> = further(measures).filter_map(|row| row.p).collect();
    found.extend(marks(measures).filter(|row| row.able).filter_map(|row| row.counted()));
    found.extend(pairs(measures).filter_map(|row| row.p));
    found.extend(shown.iter().flat_map(|(table, _)| &table.rows).filter_map(|row| row.p));
    let mut adjusted = holm::adjusted(&found).unwrap_or_default().into_iter();
    for row in further(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    for row in marks(measures).filter(|row| row.able && row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    for row in pairs(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    let of_shown = shown.iter_mut().flat_map(|(table, _)| table.rows.iter_mut());
    for row in of_shown.filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    found.len()
}

/// The rows of ratings that do not decide. Those whose numbers of sections could show no p below 5 %, whatever the marks, are no looks:
/// they can tell nothing apart, and the numbers are known before any mark is.
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

/// Writes the word that still holds when all `looks` are counted beside every word of a table against `control`, which was
/// made of these samples.
///
/// *Measurable* holds by the p value after Holm. *Alike* and *seen* are statements about their limit, and hold where
/// the p value of the difference from that limit, times the number of looks (Bonferroni), stays below 5 %.
pub(super) fn count_looks(
    table: &mut ControlTable,
    (samples, control): (&[Sample], Treatment),
    (measure, looks): (&Measure, usize),
    solved: &mut Solved,
) {
    let shifts: Vec<f64> = table.rows.iter().map(|row| shift(row, measure)).collect();
    let Some(beyond) = beyond(table, (measure, &shifts), (samples, control), solved) else { return };
    for (row, p) in table.rows.iter_mut().zip(beyond) {
        let Ok(word) = row.word else { continue };
        // A bound has no p value that would hold among others.
        if row.farther != Farther::No {
            row.over_all = Some(Word::NotSettled);
            continue;
        }
        let measurable = row.p_holm.is_some_and(|p| p < LEVEL);
        row.over_all = Some(match word {
            Word::Alike | Word::Seen if p * (looks as f64) < LEVEL => word,
            Word::NotSettled => Word::NotSettled,
            _ if measurable => Word::Measurable,
            _ => Word::NotSettled,
        });
    }
}

/// How far a row must be moved so that its word is a statement about zero.
fn shift(row: &ControlRow, measure: &Measure) -> f64 {
    let limit = match row.word {
        Ok(Word::Alike) => measure.alike.as_ref(),
        Ok(Word::Seen) => measure.seen.as_ref(),
        _ => None,
    };
    limit.map_or(0.0, |limit| limit.value).copysign(row.difference)
}

/// The p value of every row when it is moved by its shift, by the procedure of the table: Games-Howell where each treatment has
/// its own spread, else Dunnett or ratios against bare and Tukey-Kramer over the products against a benchmark.
fn beyond(
    table: &ControlTable,
    (measure, shifts): (&Measure, &[f64]),
    (samples, control): (&[Sample], Treatment),
    solved: &mut Solved,
) -> Option<Vec<f64>> {
    // Against a product the rows are pairs of products; against sections without one they are a family of their own.
    let apart = !matches!(control, Treatment::Product(_));
    let rows = || table.rows.iter().zip(shifts);
    if apart && !table.basis.by_pairs() {
        let own = |row: &ControlRow| GroupMean { mean: row.change, n: row.n };
        let means: Vec<(GroupMean, f64)> = rows().map(|(row, &by)| (own(row), by)).collect();
        let shares = Shares::of(measure, false).filter(|_| table.of_ratios);
        let judged = judged(&means, table.control.group(), (table.basis.spread?, shares), solved)?;
        return Some(judged.iter().map(|row| row.p).collect());
    }
    let counts = |sample: &&Sample| {
        !sample.values.is_empty() && (apart || matches!(sample.treatment, Treatment::Product(_)))
    };
    let family: Vec<&Sample> = samples.iter().filter(counts).collect();
    let place = |treatment| family.iter().position(|sample| sample.treatment == treatment);
    let of = |treatment| rows().find(|(row, _)| row.treatment == treatment).map_or(0.0, |(_, &by)| by);
    let judged = if table.basis.own_spreads {
        let values = |sample: &&Sample| -> Vec<f64> {
            sample.values.iter().map(|value| value - of(sample.treatment)).collect()
        };
        let scatters = |at: usize| !table.basis.flat.contains(&family[at].treatment);
        games_howell::pairs_among(&family.iter().map(values).collect::<Vec<_>>(), scatters, CONFIDENCE)?
    } else if table.basis.linked() {
        let apart = by_piece::among_products(samples, DEGREES_FOR_WORDS);
        let apart = apart.filter(|_| table.basis.scatter_of == ScatterOf::Products).map(|(apart, _)| apart);
        let mean = |sample: &&Sample| {
            let row = rows().find(|(row, _)| row.treatment == sample.treatment);
            let mean = row.map_or(table.control.mean, |(row, &by)| row.change - by);
            (sample.treatment, mean)
        };
        let among: Vec<(Treatment, f64)> = family.iter().map(mean).collect();
        pieces::linked_pairs(apart.as_deref().unwrap_or(samples), &among, table.basis.spread?, CONFIDENCE)?
    } else {
        let mean = |sample: &&Sample| {
            let mean = summary::mean(&sample.values)? - of(sample.treatment);
            Some(GroupMean { mean, n: sample.values.len() })
        };
        let means: Option<Vec<GroupMean>> = family.iter().map(mean).collect();
        tukey::all_pairs(&means?, table.basis.spread?, CONFIDENCE)?
    };
    let control = place(control)?;
    rows()
        .map(|(row, _)| {
            let own = place(row.treatment)?;
            let both = (own.min(control), own.max(control));
            // A row without an interval has no word that could count.
            Some(judged.iter().find(|pair| (pair.one, pair.other) == both).map_or(1.0, |pair| pair.p))
        })
        .collect()
}

//! How far readings of one section lie apart in the rounds that a comparison rests on.

use super::model::WithinRounds;
use crate::readings::{Cell, Evidence, Outliers, Readings, far_sections};
use crate::stats::anova;
use crate::study::{MeasureId, RoundId, Study};

/// The spread of readings of a measure within sections at some rounds, pooled; what lies far off is no scatter of the gauge, and is named
/// in place of being counted.
pub fn within_rounds(
    (study, readings, outliers): (&Study, &Readings, &Outliers),
    measure: MeasureId,
    rounds: &[RoundId],
) -> WithinRounds {
    let counts = |cell: &Cell| cell.measure == measure && rounds.contains(&cell.round);
    let marked =
        outliers.marks.iter().filter(|mark| mark.evidence == Evidence::Finding).map(|mark| mark.cell);
    let sections = far_sections(study, readings).into_iter().map(|far| far.cell);
    let mut far: Vec<usize> = marked.chain(sections).collect();
    far.sort_unstable();
    far.dedup();
    let cells = readings.cells().iter().enumerate().filter(|(_, cell)| counts(cell));
    let (off, kept): (Vec<_>, Vec<_>) = cells.partition(|(at, _)| far.binary_search(at).is_ok());
    let values: Vec<Vec<f64>> = kept.iter().map(|(_, cell)| readings.values(cell)).collect();
    WithinRounds {
        spread: anova::pooled_spread(&values).filter(|spread| spread.sd > 0.0),
        far: off.into_iter().map(|(_, cell)| (cell.section, cell.round)).collect(),
    }
}

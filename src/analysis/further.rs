//! Further looks: the p values of all rounds and measures that do not decide, adjusted together after Holm.

use super::model::{BareRow, MeasureAnalysis, Role};
use crate::stats::holm;

/// Writes the adjusted p value beside every p value of a further look and returns how many there are.
///
/// Holm (1979), Scandinavian Journal of Statistics 6, 65-70.
pub(super) fn adjust(measures: &mut [MeasureAnalysis]) -> usize {
    let found: Vec<f64> = rows(measures).filter_map(|row| row.p).collect();
    let mut adjusted = holm::adjusted(&found).unwrap_or_default().into_iter();
    for row in rows(measures).filter(|row| row.p.is_some()) {
        row.p_holm = adjusted.next();
    }
    found.len()
}

fn rows(measures: &mut [MeasureAnalysis]) -> impl Iterator<Item = &mut BareRow> {
    let rounds = measures.iter_mut().flat_map(|measure| measure.rounds.iter_mut());
    let further = rounds.filter(|round| round.role == Role::FurtherLook);
    further.filter_map(|round| round.to_bare.as_mut().ok()).flat_map(|table| table.rows.iter_mut())
}

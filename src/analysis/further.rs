//! Further looks: the p values of all rounds and measures that do not decide, adjusted together after Holm.

use super::model::{BareRow, MeasureAnalysis, Role};

/// Writes the adjusted p value beside every p value of a further look and returns how many there are.
///
/// Holm (1979), Scandinavian Journal of Statistics 6, 65-70.
pub(super) fn adjust(measures: &mut [MeasureAnalysis]) -> usize {
    let found: Vec<f64> = rows(measures).filter_map(|row| row.p).collect();
    let mut adjusted = holm(&found).into_iter();
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

fn holm(found: &[f64]) -> Vec<f64> {
    let mut order: Vec<usize> = (0..found.len()).collect();
    order.sort_by(|&a, &b| found[a].total_cmp(&found[b]));
    let mut adjusted = vec![1.0; found.len()];
    let mut so_far: f64 = 0.0;
    for (rank, &index) in order.iter().enumerate() {
        so_far = so_far.max((found.len() - rank) as f64 * found[index]).min(1.0);
        adjusted[index] = so_far;
    }
    adjusted
}

#[cfg(test)]
mod tests {
    use super::holm;

    #[test]
    fn holm_by_hand() {
        // Smallest times 4, next times 3, and no value below the one before it: 0.02 x 3 = 0.06, 0.03 x 2 = 0.06.
        let adjusted = holm(&[0.03, 0.005, 0.6, 0.02]);
        for (found, expected) in adjusted.iter().zip([0.06, 0.02, 0.6, 0.06]) {
            assert!((found - expected).abs() < 1e-15, "{found} {expected}");
        }
        assert_eq!(holm(&[]), Vec::<f64>::new());
    }
}

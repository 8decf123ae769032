//! Adjustment of several p values that are looked at together, after Holm.

/// The p values of `found` adjusted after Holm (1979), Scandinavian Journal of Statistics 6, 65-70,
/// in the given order; `None` where one is not between 0 and 1.
///
/// The smallest is multiplied by their number, the next by one less, and so on; none falls below
/// the one before it, and none exceeds 1. No independence is asked for.
pub fn adjusted(found: &[f64]) -> Option<Vec<f64>> {
    if !found.iter().all(|p| (0.0..=1.0).contains(p)) {
        return None;
    }
    let mut order: Vec<usize> = (0..found.len()).collect();
    order.sort_by(|&a, &b| found[a].total_cmp(&found[b]));
    let mut adjusted = vec![1.0; found.len()];
    let mut so_far: f64 = 0.0;
    for (rank, &index) in order.iter().enumerate() {
        so_far = so_far.max((found.len() - rank) as f64 * found[index]).min(1.0);
        adjusted[index] = so_far;
    }
    Some(adjusted)
}

#[cfg(test)]
mod tests {
    use super::adjusted;

    #[test]
    fn holm_by_hand() {
        // Smallest times 4, next times 3, and no value below the one before it: 0.02 x 3 = 0.06, 0.03 x 2 = 0.06.
        let found = adjusted(&[0.03, 0.005, 0.6, 0.02]).unwrap();
        for (found, expected) in found.iter().zip([0.06, 0.02, 0.6, 0.06]) {
            assert!((found - expected).abs() < 1e-15, "{found} {expected}");
        }
    }

    #[test]
    fn one_value_stays_and_none_gives_none() {
        assert_eq!(adjusted(&[0.2]), Some(vec![0.2]));
        assert_eq!(adjusted(&[]), Some(Vec::new()));
        assert_eq!((adjusted(&[0.2, f64::NAN]), adjusted(&[1.1])), (None, None));
    }
}

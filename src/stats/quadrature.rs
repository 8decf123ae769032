//! Gauss-Legendre rules and the division of a range into panels.

use std::f64::consts::PI;

/// Nodes with their weights: the integral of f over the range is the sum of weight x f(node).
pub(super) type Rule = Vec<(f64, f64)>;

/// The Gauss-Legendre rule with `order` nodes on [-1, 1].
///
/// The nodes are the roots of the Legendre polynomial, found by Newton's iteration from the
/// asymptotic formula (Abramowitz and Stegun 1964, 25.4.29 and 22.16.6).
pub(super) fn gauss_legendre(order: usize) -> Rule {
    (0..order).map(|index| legendre_node(order, index)).collect()
}

fn legendre_node(order: usize, index: usize) -> (f64, f64) {
    let mut x = -(PI * (index as f64 + 0.75) / (order as f64 + 0.5)).cos();
    for _ in 0..6 {
        let (value, slope) = legendre(order, x);
        x -= value / slope;
    }
    let (_, slope) = legendre(order, x);
    (x, 2.0 / ((1.0 - x * x) * slope * slope))
}

/// Value and slope of the Legendre polynomial by its three-term recurrence.
fn legendre(order: usize, x: f64) -> (f64, f64) {
    let (mut before, mut value) = (0.0, 1.0);
    for degree in 0..order {
        let degree = degree as f64;
        let next = ((2.0 * degree + 1.0) * x * value - degree * before) / (degree + 1.0);
        (before, value) = (value, next);
    }
    (value, order as f64 * (x * value - before) / (x * x - 1.0))
}

/// `rule` repeated on equal panels of [low, high], none wider than `width`.
pub(super) fn panels(rule: &[(f64, f64)], low: f64, high: f64, width: f64) -> Rule {
    let mut ends = vec![low];
    let step = (high - low) / ((high - low) / width).ceil().max(1.0);
    while ends[ends.len() - 1] + 1.5 * step < high {
        ends.push(ends[ends.len() - 1] + step);
    }
    ends.push(high);
    ends.windows(2).flat_map(|ends| scaled(rule, ends[0], ends[1])).collect()
}

fn scaled(rule: &[(f64, f64)], low: f64, high: f64) -> impl Iterator<Item = (f64, f64)> {
    let (middle, half) = (f64::midpoint(low, high), (high - low) / 2.0);
    rule.iter().map(move |(node, weight)| (middle + half * node, half * weight))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_nodes_are_the_textbook_ones() {
        let rule = gauss_legendre(2);
        let node = 1.0 / 3.0_f64.sqrt();
        for ((x, weight), expected) in rule.into_iter().zip([-node, node]) {
            assert!((x - expected).abs() < 1e-15 && (weight - 1.0).abs() < 1e-15);
        }
    }

    #[test]
    fn a_rule_is_exact_for_polynomials_below_twice_its_order() {
        for order in [3, 16, 24, 40] {
            let degree = 2 * order - 2;
            let sum: f64 = gauss_legendre(order)
                .iter()
                .map(|(x, weight)| weight * x.powi(i32::try_from(degree).unwrap()))
                .sum();
            assert!((sum - 2.0 / (degree as f64 + 1.0)).abs() < 1e-14, "order {order}");
        }
    }

    #[test]
    fn panels_cover_the_range_once() {
        for (low, high, width) in [(0.0, 8.5, 3.0), (-1.0, 1.0, 0.1), (2.0, 2.5, 9.0)] {
            let rule = panels(&gauss_legendre(8), low, high, width);
            let length: f64 = rule.iter().map(|(_, weight)| weight).sum();
            assert!((length - (high - low)).abs() < 1e-13);
            let integral: f64 = rule.iter().map(|(x, weight)| weight * x.exp()).sum();
            assert!((integral / (high.exp() - low.exp()) - 1.0).abs() < 1e-13);
        }
    }
}

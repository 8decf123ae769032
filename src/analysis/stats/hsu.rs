//! Comparisons of every group with the best of the others, after Hsu.

use super::max_t::{MaxT, Sides};
use super::{GroupMean, Spread};

/// Which mean is the better one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// The larger mean.
    Higher,
    /// The smaller mean.
    Lower,
}

/// A group against the best of the others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestComparison {
    /// Lower end of the interval of the lead over the best other, at most 0.
    pub low: f64,
    /// Upper end of that interval, at least 0.
    pub high: f64,
    /// One-sided critical value of this group.
    pub critical: f64,
    /// Whether the group may be the best: the upper end lies above 0.
    pub may_lead: bool,
}

/// Constrained simultaneous intervals of every group's lead over the best other, in the order of
/// `groups`. A lead is positive where the group is the better one, whatever the direction.
///
/// `confidence` is a fraction, 0.95 for 95 %. `None` below two groups and as in
/// [`super::dunnett::against_control`]. Hsu (1984), Annals of Statistics 12, 1136-1144; with
/// unequal numbers every group has its own critical value (Hsu 1996, Multiple Comparisons, 4.2).
pub fn with_best(
    groups: &[GroupMean],
    spread: Spread,
    better: Better,
    confidence: f64,
) -> Option<Vec<BestComparison>> {
    if groups.len() < 2 || !spread.is_usable() || !groups.iter().all(|g| g.mean.is_finite()) {
        return None;
    }
    let criticals = critical_values(groups, 1.0 - confidence, spread.df)?;
    let margin = |i: usize, j: usize| criticals[i] * spread.of_difference(groups[i], groups[j]);
    let lead = |i: usize, j: usize| match better {
        Better::Higher => groups[i].mean - groups[j].mean,
        Better::Lower => groups[j].mean - groups[i].mean,
    };
    let others = |i: usize| (0..groups.len()).filter(move |&j| j != i);
    let highs: Vec<f64> = (0..groups.len())
        .map(|i| {
            others(i)
                .map(|j| lead(i, j) + margin(i, j))
                .fold(f64::INFINITY, f64::min)
                .max(0.0)
        })
        .collect();
    // Only groups that may lead can be the best other; where there is none, this one leads alone.
    let low = |i: usize| {
        others(i)
            .filter(|&j| highs[j] > 0.0)
            .map(|j| lead(i, j) - margin(j, i))
            .fold(0.0, f64::min)
    };
    let comparison = |i: usize| BestComparison {
        low: low(i),
        high: highs[i],
        critical: criticals[i],
        may_lead: highs[i] > 0.0,
    };
    Some((0..groups.len()).map(comparison).collect())
}

/// The one-sided critical value of every group as the control of all others. Groups of the same
/// size face the same others, so each size is solved once.
fn critical_values(groups: &[GroupMean], alpha: f64, df: f64) -> Option<Vec<f64>> {
    let ns: Vec<usize> = groups.iter().map(|group| group.n).collect();
    let mut known: Vec<(usize, f64)> = Vec::new();
    for (index, &n) in ns.iter().enumerate() {
        if !known.iter().any(|&(size, _)| size == n) {
            let mut others = ns.clone();
            others.remove(index);
            known.push((
                n,
                MaxT::new(&others, n, Sides::Upper)?.critical_value(alpha, df)?,
            ));
        }
    }
    ns.iter()
        .map(|n| {
            known
                .iter()
                .find(|(size, _)| size == n)
                .map(|&(_, value)| value)
        })
        .collect()
}

//! Comparisons of several groups with one control, after Dunnett.

use super::max_t::{MaxT, Sides};
use super::{GroupMean, Spread};

/// A group against the control.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Comparison {
    /// Mean of the group minus mean of the control, in the unit of the measure.
    pub difference: f64,
    /// Lower end of the simultaneous interval.
    pub low: f64,
    /// Upper end of the simultaneous interval.
    pub high: f64,
    /// Two-sided p value, adjusted for all comparisons.
    pub p: f64,
}

/// Two-sided simultaneous intervals of every group against `control`, in the order of `groups`.
///
/// `confidence` is a fraction, 0.95 for 95 %. `None` where there is no group, a group has no
/// values, the spread is 0 or has less than one degree of freedom, or `confidence` is not between
/// 0 and 1. Dunnett (1955, 1964), with the exact correlations for unequal numbers.
pub fn against_control(
    groups: &[GroupMean],
    control: GroupMean,
    spread: Spread,
    confidence: f64,
) -> Option<Vec<Comparison>> {
    let ns: Vec<usize> = groups.iter().map(|group| group.n).collect();
    let family = MaxT::new(&ns, control.n, Sides::Two).filter(|_| spread.is_usable())?;
    let critical = family.critical_value(1.0 - confidence, spread.df)?;
    groups
        .iter()
        .map(|&group| {
            let difference = group.mean - control.mean;
            let error = spread.of_difference(group, control);
            let (low, high) = (difference - critical * error, difference + critical * error);
            let p = family.tail(difference / error, spread.df)?;
            Some(Comparison {
                difference,
                low,
                high,
                p,
            })
        })
        .collect()
}

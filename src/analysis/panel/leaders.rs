//! Who may lead with what the place adds taken out: Hsu's set by the rule of the table, from the numbers less the plane.

use super::super::against_control::CONFIDENCE;
use super::super::basis::DEGREES_FOR_WORDS;
use super::super::model::{LeadTable, WithoutPlace};
use crate::stats::hsu::{Better, with_errors};
use crate::stats::map::plane::BesideGroups;
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, summary};
use crate::study::{Direction, ProductId, Treatment};

/// The number of a section and its middle.
pub(super) struct OnPlane {
    pub(super) treatment: Treatment,
    pub(super) at: (f64, f64),
    pub(super) value: f64,
}

/// A product less the plane: its mean, and the mean place of its sections.
struct Moved {
    product: ProductId,
    mean: GroupMean,
    at: (f64, f64),
}

/// The set with the plane taken out of the numbers; in the error of a difference is that of both slopes over the way between the mean places
/// of both products, as in an analysis of covariance (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapter 18).
///
/// `None` where the table does not say who may lead by Hsu's intervals on one spread, where a section was stopped, or too few degrees of
/// freedom are left.
pub(super) fn without_place(
    table: &LeadTable,
    each: &[OnPlane],
    plane: &BesideGroups,
    (direction, solved): (Direction, &mut Solved),
) -> Option<WithoutPlace> {
    let better = match direction {
        Direction::Higher => Better::Higher,
        Direction::Lower => Better::Lower,
        Direction::Neither => return None,
    };
    let judged = table.may_lead.is_ok() && table.bound.is_empty();
    let one_spread = !table.basis.by_pairs() && !table.basis.over_sites;
    if !judged || !one_spread || plane.with.df < DEGREES_FOR_WORDS {
        return None;
    }
    let products: Vec<Moved> =
        table.rows.iter().map(|row| moved(row.product, each, plane)).collect::<Option<_>>()?;
    let means: Vec<GroupMean> = products.iter().map(|one| one.mean).collect();
    let error = |one: usize, other: usize| {
        let own = plane.with.of_difference(means[one], means[other]);
        let (a, b) = (products[one].at, products[other].at);
        let way = [a.0 - b.0, a.1 - b.1];
        let slopes = (0..2).flat_map(|i| (0..2).map(move |j| (i, j)));
        let slopes: f64 = slopes.map(|(i, j)| way[i] * plane.covariance[i][j] * way[j]).sum();
        own.hypot(plane.with.sd * slopes.max(0.0).sqrt())
    };
    let found = with_errors(&means, (plane.with, error), better, CONFIDENCE, solved)?;
    let leading = products.iter().zip(found).filter(|(_, found)| found.may_lead);
    Some(WithoutPlace {
        products: leading.map(|(one, _)| one.product).collect(),
        of: products.len(),
        sections: means.iter().map(|mean| mean.n).sum(),
        spread: plane.with,
    })
}

fn moved(product: ProductId, each: &[OnPlane], plane: &BesideGroups) -> Option<Moved> {
    let own = || each.iter().filter(|one| one.treatment == Treatment::Product(product));
    let mean = |number: fn(&OnPlane) -> f64| summary::mean(&own().map(number).collect::<Vec<f64>>());
    let at = (mean(|one| one.at.0)?, mean(|one| one.at.1)?);
    let less = plane.plane.along.value * at.0 + plane.plane.across.value * at.1;
    let mean = GroupMean { mean: mean(|one| one.value)? - less, n: own().count() };
    Some(Moved { product, mean, at })
}

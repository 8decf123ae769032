//! Which products may lead: every product against the best of the others, after Hsu.

use super::groups::Sample;
use super::model::{Basis, Interval, LeadRow, LeadTable, NoTable, Strength};
use crate::stats::hsu::{Better, with_best};
use crate::stats::{GroupMean, summary};
use crate::study::{Direction, Measure, ProductId, Treatment};

/// The table of one round from its samples of changes. Only products compete; a benchmark is a product.
///
/// Hsu (1984), Annals of Statistics 12, 1136-1144.
pub(super) fn table(samples: &[Sample], basis: &Basis, measure: &Measure) -> Result<LeadTable, NoTable> {
    let better = match measure.direction {
        Direction::Higher => Better::Higher,
        Direction::Lower => Better::Lower,
        Direction::Neither => return Err(NoTable::NoDirection),
    };
    let (products, means, absent) = competitors(samples);
    match products.len() {
        0 => return Err(NoTable::NoProducts),
        1 => return Err(NoTable::OneProduct),
        _ => {}
    }
    let compared = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => with_best(&means, spread, better, 0.95),
        _ => None,
    };
    let interval = |index: usize| {
        let row = compared.as_ref()?.get(index)?;
        Some(Interval { low: row.low, high: row.high })
    };
    let rows: Vec<LeadRow> = (0..products.len())
        .map(|index| LeadRow {
            product: products[index],
            n: means[index].n,
            change: means[index].mean,
            lead: lead(&means, index, better),
            interval: interval(index),
        })
        .collect();
    let (may_lead, all_alike) = judge(&rows, basis.strength, measure);
    Ok(LeadTable { basis: basis.clone(), rows, may_lead, all_alike, absent })
}

fn competitors(samples: &[Sample]) -> (Vec<ProductId>, Vec<GroupMean>, Vec<ProductId>) {
    let (mut products, mut means, mut absent) = (Vec::new(), Vec::new(), Vec::new());
    for sample in samples {
        let Treatment::Product(product) = sample.treatment else { continue };
        match summary::mean(&sample.values) {
            Some(mean) => {
                products.push(product);
                means.push(GroupMean { mean, n: sample.values.len() });
            }
            None => absent.push(product),
        }
    }
    (products, means, absent)
}

fn lead(means: &[GroupMean], index: usize, better: Better) -> f64 {
    let over = |other: &GroupMean| match better {
        Better::Higher => means[index].mean - other.mean,
        Better::Lower => other.mean - means[index].mean,
    };
    let others = means.iter().enumerate().filter(|&(other, _)| other != index);
    others.map(|(_, other)| over(other)).reduce(f64::min).unwrap_or(0.0)
}

/// The set that may lead, and whether all lie within the alike limit of the leader: where the lower end of every lead
/// lies above -alike, no two products differ by more than alike, at the same 95 %.
fn judge(
    rows: &[LeadRow],
    strength: Strength,
    measure: &Measure,
) -> (Result<Vec<ProductId>, Strength>, Option<bool>) {
    let intervals: Option<Vec<Interval>> = rows.iter().map(|row| row.interval).collect();
    let Some(intervals) = intervals.filter(|_| strength == Strength::Full) else {
        return (Err(strength), None);
    };
    let ahead = rows.iter().zip(&intervals).filter(|(_, interval)| interval.high > 0.0);
    let all_alike = measure.alike.as_ref().map(|alike| intervals.iter().all(|one| one.low >= -alike.value));
    (Ok(ahead.map(|(row, _)| row.product).collect()), all_alike)
}

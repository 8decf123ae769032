//! Which products may lead: every product against the best of the others, after Hsu.

use super::model::{Basis, Interval, LeadRow, LeadTable, NoTable, Strength};
use super::sample::Sample;
use crate::stats::hsu::{BestComparison, Better, leads, with_best};
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, summary};
use crate::study::{Direction, Measure, ProductId, Treatment};

/// The table of one round from its samples of changes. Only products compete; a benchmark is a product.
///
/// Hsu (1984), Annals of Statistics 12, 1136-1144.
pub(super) fn table(
    samples: &[Sample],
    basis: &Basis,
    measure: &Measure,
    solved: &mut Solved,
) -> Result<LeadTable, NoTable> {
    let better = match measure.direction {
        Direction::Higher => Better::Higher,
        Direction::Lower => Better::Lower,
        Direction::Neither => return Err(NoTable::NoDirection),
    };
    let (products, means, absent) = competitors(samples);
    let readings: Vec<u32> = products
        .iter()
        .filter_map(|&id| samples.iter().find(|sample| sample.treatment == Treatment::Product(id)))
        .map(|sample| sample.readings)
        .collect();
    match products.len() {
        0 => return Err(NoTable::NoProducts),
        1 => return Err(NoTable::OneProduct),
        _ => {}
    }
    let compared = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => {
            with_best(&means, spread, better, 0.95, solved)
        }
        _ => None,
    };
    let interval = |index: usize| {
        let row = compared.as_ref()?.get(index)?;
        Some(Interval { low: row.low, high: row.high })
    };
    let rows: Vec<LeadRow> = leads(&means, better)
        .into_iter()
        .enumerate()
        .map(|(index, lead)| LeadRow {
            product: products[index],
            n: means[index].n,
            readings: readings[index],
            change: means[index].mean,
            lead,
            interval: interval(index),
        })
        .collect();
    let judged = compared.filter(|_| basis.strength == Strength::Full).ok_or(basis.strength);
    let all_alike = judged.as_ref().ok().and_then(|judged| all_alike(judged, measure));
    let may_lead = judged.map(|judged| {
        let ahead = products.iter().zip(&judged).filter(|(_, row)| row.may_lead);
        ahead.map(|(&product, _)| product).collect()
    });
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

/// Where the lower end of every lead lies above -alike, no two products differ by more than alike, at the same 95 %.
fn all_alike(judged: &[BestComparison], measure: &Measure) -> Option<bool> {
    let alike = measure.alike.as_ref()?.value;
    Some(judged.iter().all(|row| row.low >= -alike))
}

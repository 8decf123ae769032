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
    let bound = bounds_of(samples);
    let whole: Vec<usize> = (0..products.len()).filter(|&at| !bound.contains(&products[at])).collect();
    let competing: Vec<GroupMean> = whole.iter().map(|&at| means[at]).collect();
    let compared = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => {
            with_best(&competing, spread, better, 0.95, solved)
        }
        _ => None,
    };
    let interval = |index: usize| {
        let place = whole.iter().position(|&at| at == index)?;
        let row = compared.as_ref()?.get(place)?;
        Some(Interval { low: row.low, high: row.high })
    };
    let rows: Vec<LeadRow> = products
        .iter()
        .enumerate()
        .map(|(index, &product)| LeadRow {
            product,
            n: means[index].n,
            readings: readings[index],
            change: means[index].mean,
            lead: lead_of(index, &means, &whole, better),
            interval: interval(index),
        })
        .collect();
    let judged = compared.filter(|_| basis.strength == Strength::Full).ok_or(basis.strength);
    let all_alike = judged.as_ref().ok().and_then(|judged| all_alike(judged, measure));
    let may_lead = match (basis.strength, whole.as_slice()) {
        (Strength::Full, []) => Err(Strength::Bound),
        (Strength::Full, [only]) => Ok(vec![products[*only]]),
        _ => judged.map(|judged| {
            let ahead = whole.iter().zip(&judged).filter(|(_, row)| row.may_lead);
            ahead.map(|(&at, _)| products[at]).collect()
        }),
    };
    Ok(LeadTable { basis: basis.clone(), rows, bound, may_lead, all_alike, absent })
}

/// Products with a section that was stopped: going on would have left it as bad or worse, so that its mean leads nobody and beats nobody.
fn bounds_of(samples: &[Sample]) -> Vec<ProductId> {
    let stopped = samples.iter().filter(|sample| sample.carried > 0);
    let products = stopped.filter_map(|sample| match sample.treatment {
        Treatment::Product(product) => Some(product),
        _ => None,
    });
    products.collect()
}

/// The lead of one product over the best of the others that are `whole`, or of all others where none is.
fn lead_of(own: usize, means: &[GroupMean], whole: &[usize], better: Better) -> f64 {
    let others = |at: &usize| *at != own;
    let mut rivals: Vec<usize> = whole.iter().copied().filter(others).collect();
    if rivals.is_empty() {
        rivals = (0..means.len()).filter(others).collect();
    }
    let all: Vec<GroupMean> = std::iter::once(own).chain(rivals).map(|at| means[at]).collect();
    leads(&all, better).first().copied().unwrap_or(0.0)
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

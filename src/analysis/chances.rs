//! Chance of leading: how often each product comes first when its mean is drawn anew from what the study knows of it.

use super::against_control::CONFIDENCE;
use super::model::{Basis, ChanceRow, ChanceTable, DrawnFrom, LeadRow, LeadTable, Strength};
use super::pieces;
use super::sample::Sample;
use crate::stats::false_words::{Alike, though_alike};
use crate::stats::hsu::Better;
use crate::stats::random::Draws;
use crate::stats::rank_chances::{
    Apart, RankChance, from_joint, from_own_spreads, from_shared_spread, resampled,
};
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, Spread, anova, summary};
use crate::study::{Direction, Measure, Treatment};

/// Sections of every product from which on they are drawn anew; fewer give few and coarse means.
const FOR_RESAMPLING: usize = 6;

const DRAWS: Draws = Draws { count: 20_000, seed: 20 };

/// The chances at the round of a table of who may lead, from its samples.
///
/// # Errors
/// The reason where the spread carries no such statement.
pub(super) fn table(
    lead: &LeadTable,
    samples: &[Sample],
    measure: &Measure,
    solved: &mut Solved,
) -> Result<ChanceTable, Strength> {
    let basis = &lead.basis;
    if basis.strength != Strength::Full {
        return Err(basis.strength);
    }
    if basis.own_spreads && lead.rows.iter().any(|row| basis.flat.contains(&Treatment::Product(row.product)))
    {
        return Err(Strength::Flat);
    }
    let rows: Vec<&LeadRow> = lead.rows.iter().filter(|row| !lead.bound.contains(&row.product)).collect();
    if rows.len() < 2 {
        return Err(Strength::Bound);
    }
    let better = if measure.direction == Direction::Lower { Better::Lower } else { Better::Higher };
    let products: Vec<&Sample> = rows
        .iter()
        .filter_map(|row| samples.iter().find(|sample| sample.treatment == Treatment::Product(row.product)))
        .collect();
    let chances = if basis.linked() {
        linked(samples, &products, basis, better)
    } else {
        drawn(&products, basis, better)
    };
    let (from, chances) = chances.ok_or(Strength::NoScatter)?;
    let rows = rows.into_iter().zip(chances).map(|(row, chance)| ChanceRow {
        product: row.product,
        n: row.n,
        readings: row.readings,
        first: chance.first,
        among_three: chance.among_three,
    });
    let ns: Vec<usize> = lead.rows.iter().map(|row| row.n).collect();
    let of =
        |treatment| samples.iter().find(|sample| sample.treatment == treatment).map(|one| one.values.len());
    let others = [Treatment::CarrierOnly, Treatment::Untouched].into_iter().filter_map(of).filter(|&n| n > 0);
    let alike = Alike {
        products: &ns,
        others: &others.collect::<Vec<_>>(),
        bare: of(Treatment::Bare).filter(|&n| n > 0),
    };
    // Where sections were stopped, which are compared hangs on how they came out, which no such draw knows.
    let shared = basis.spread.filter(|_| !basis.by_pairs() && basis.stopped.is_empty());
    let though_alike = shared.and_then(|spread| though_alike(&alike, spread.df, CONFIDENCE, DRAWS, solved));
    Ok(ChanceTable { from, draws: DRAWS, though_alike, rows: rows.collect() })
}

/// Means over all pieces alike, drawn together: pieces that carry two products move both.
fn linked(
    samples: &[Sample],
    products: &[&Sample],
    basis: &Basis,
    better: Better,
) -> Option<(DrawnFrom, Vec<RankChance>)> {
    let found = pieces::linked(samples)?;
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    let place = |product: &&Sample| read.iter().position(|sample| sample.treatment == product.treatment);
    let among: Vec<usize> = products.iter().map(place).collect::<Option<_>>()?;
    let means: Vec<GroupMean> = among.iter().map(|&at| found.means[at]).collect();
    let chances = from_joint(&means, &found.covariance(&among), basis.spread?, better, DRAWS)?;
    Some((DrawnFrom::LinkedPieces, chances))
}

/// The choice follows the numbers of sections and what the study says of its spreads, never the data.
fn drawn(products: &[&Sample], basis: &Basis, better: Better) -> Option<(DrawnFrom, Vec<RankChance>)> {
    let values: Vec<&[f64]> = products.iter().map(|sample| sample.values.as_slice()).collect();
    if !basis.within_pieces() && values.iter().all(|values| values.len() >= FOR_RESAMPLING) {
        return Some((DrawnFrom::Sections, resampled(&values, Apart::AsStudent, better, DRAWS)?));
    }
    let means: Option<Vec<GroupMean>> = values
        .iter()
        .map(|values| Some(GroupMean { mean: summary::mean(values)?, n: values.len() }))
        .collect();
    let means = means?;
    if basis.own_spreads {
        let own: Option<Vec<Spread>> = values.iter().map(|values| anova::pooled_spread(&[values])).collect();
        return Some((DrawnFrom::OwnSpreads, from_own_spreads(&means, &own?, better, DRAWS)?));
    }
    let from = if basis.within_pieces() { DrawnFrom::WithinPieces } else { DrawnFrom::SharedSpread };
    Some((from, from_shared_spread(&means, basis.spread?, better, DRAWS)?))
}

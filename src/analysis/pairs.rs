//! Differences between products, every pair, with simultaneous intervals: Tukey-Kramer on the pooled spread, or Games-Howell.

use super::against_control::CONFIDENCE;
use super::groups;
use super::model::{
    Basis, ControlRow, ControlTable, Farther, GroupValue, Interval, LeadTable, NoTable, PairRow, PairTable,
    Strength, Word,
};
use super::pieces;
use super::sample::Sample;
use super::word::{side, word};
use crate::stats::{GroupMean, Pair, Spread, games_howell, summary, tukey};
use crate::study::{Direction, Measure, ProductId, Treatment};

/// Sections that every compared group needs before each may have a spread of its own.
const FOR_OWN_SPREADS: usize = 4;

/// Whether the compared groups have sections enough for spreads of their own.
pub(super) fn may_have_own_spreads(samples: &[Sample]) -> bool {
    let read = || samples.iter().filter(|sample| !sample.values.is_empty());
    read().count() > 1 && read().all(|sample| sample.values.len() >= FOR_OWN_SPREADS)
}

/// The table of one round from its samples of changes.
pub(super) fn table(samples: &[Sample], basis: &Basis, measure: &Measure) -> Result<PairTable, NoTable> {
    let products: Vec<(ProductId, &Sample)> = samples.iter().filter_map(product).collect();
    if products.len() < 2 {
        return Err(if products.is_empty() { NoTable::NoProducts } else { NoTable::OneProduct });
    }
    let values: Option<Vec<GroupValue>> =
        products.iter().map(|(_, sample)| groups::value(sample, basis.spread)).collect();
    let judged = match (basis.strength, basis.spread) {
        (Strength::Full, _) if basis.own_spreads => {
            own_pairs(&products.iter().map(|(_, sample)| *sample).collect::<Vec<_>>(), basis)
        }
        (Strength::Full | Strength::FewDegrees, Some(spread)) if basis.linked() => {
            let among = products.iter().map(|(_, sample)| *sample);
            pieces::linked_pairs(samples, &means_of(among), spread, CONFIDENCE)
        }
        (Strength::Full | Strength::FewDegrees, Some(_)) => values.as_ref().map(|own| on_spreads(own, basis)),
        _ => None,
    };
    let values = values.unwrap_or_default();
    let places = (0..products.len()).flat_map(|one| (one + 1..products.len()).map(move |other| (one, other)));
    let rows = places.filter_map(|(one, other)| {
        let (own, rival) = (values.get(one)?, values.get(other)?);
        let difference = own.mean - rival.mean;
        let pair = judged.as_ref().and_then(|judged| pair_of(judged, one, other));
        let by = basis.judged((own.n, own.carried > 0), (rival.n, rival.carried > 0)).1;
        let strength = match pair {
            Some(_) if basis.by_pairs() => basis.strength,
            Some(_) => by,
            None if by == Strength::Bound => by,
            None => unjudged(basis),
        };
        Some(row((products[one].0, products[other].0), difference, pair, strength, measure))
    });
    Ok(PairTable { basis: basis.clone(), products: products.len(), rows: rows.collect() })
}

/// Every pair by the spread that judges the two, all of them one family; without those that none does.
fn on_spreads(values: &[GroupValue], basis: &Basis) -> Vec<Pair> {
    let means: Vec<GroupMean> = values.iter().map(|value| value.group()).collect();
    let mut found: Vec<(Spread, Vec<Pair>)> = Vec::new();
    let places = (0..values.len()).flat_map(|one| (one + 1..values.len()).map(move |other| (one, other)));
    let pair = |(one, other): (usize, usize)| {
        let (own, rival) = (&values[one], &values[other]);
        let spread = basis.judged((own.n, own.carried > 0), (rival.n, rival.carried > 0)).0?;
        if found.iter().all(|(known, _)| *known != spread) {
            found.push((spread, tukey::all_pairs(&means, spread, CONFIDENCE).unwrap_or_default()));
        }
        pair_of(&found.iter().find(|(known, _)| *known == spread)?.1, one, other)
    };
    places.filter_map(pair).collect()
}

fn product(sample: &Sample) -> Option<(ProductId, &Sample)> {
    match sample.treatment {
        Treatment::Product(id) if !sample.values.is_empty() => Some((id, sample)),
        _ => None,
    }
}

fn row(
    (one, other): (ProductId, ProductId),
    difference: f64,
    pair: Option<Pair>,
    strength: Strength,
    measure: &Measure,
) -> PairRow {
    let interval = pair.map(|pair| Interval { low: pair.low, high: pair.high });
    PairRow {
        one,
        other,
        difference,
        interval,
        p: pair.filter(|_| strength == Strength::Full).map(|pair| pair.p),
        p_holm: None,
        word: match (strength, interval) {
            (Strength::Full, Some(interval)) => Ok(word(interval, measure)),
            (strength, _) => Err(strength),
        },
        side: side(difference, measure.direction),
        farther: Farther::No,
    }
}

/// The pairs of a round that the benchmark is one of, as a table against it.
pub(super) fn to_benchmark(
    samples: &[Sample],
    benchmark: ProductId,
    basis: &Basis,
    pairs: Result<PairTable, NoTable>,
) -> Result<ControlTable, NoTable> {
    let control = samples.iter().find(|sample| sample.treatment == Treatment::Product(benchmark));
    let control = control.ok_or(NoTable::BenchmarkNotPlaced)?;
    let control = groups::value(control, groups::spread_of(control, basis.spread, basis.own_spreads))
        .ok_or(NoTable::BenchmarkNotRead)?;
    let others = samples.iter().filter_map(|sample| match sample.treatment {
        Treatment::Product(id) if id != benchmark => Some((id, sample)),
        _ => None,
    });
    let others: Vec<(ProductId, &Sample)> = others.collect();
    let pairs = pairs.map_err(|_| NoTable::NoProducts)?;
    let pair = |id| {
        let mut both = pairs.rows.iter().filter(|pair| [pair.one, pair.other].contains(&benchmark));
        let pair = *both.find(|pair| [pair.one, pair.other].contains(&id))?;
        Some(if pair.one == id { pair } else { pair.turned() })
    };
    let rows = others
        .iter()
        .filter_map(|&(id, sample)| Some(control_row(pair(id)?, groups::value(sample, basis.spread)?)));
    Ok(ControlTable {
        basis: basis.clone(),
        of_ratios: false,
        critical: None,
        control,
        rows: rows.collect(),
        absent: others
            .iter()
            .filter(|(_, sample)| sample.values.is_empty())
            .map(|(_, sample)| sample.treatment)
            .collect(),
        control_until: None,
        control_last: None,
    })
}

fn control_row(pair: PairRow, value: GroupValue) -> ControlRow {
    ControlRow {
        treatment: Treatment::Product(pair.one),
        n: value.n,
        readings: value.readings,
        change: value.mean,
        difference: pair.difference,
        interval: pair.interval,
        p: pair.p,
        p_holm: None,
        word: pair.word,
        over_all: None,
        side: pair.side,
        farther: pair.farther,
    }
}

fn means_of<'a>(samples: impl Iterator<Item = &'a Sample>) -> Vec<(Treatment, f64)> {
    samples.filter_map(|sample| Some((sample.treatment, summary::mean(&sample.values)?))).collect()
}

fn pair_of(judged: &[Pair], one: usize, other: usize) -> Option<Pair> {
    judged.iter().find(|pair| (pair.one, pair.other) == (one, other)).copied()
}

/// Every pair of samples that have a spread, each with its own.
fn own_pairs(samples: &[&Sample], basis: &Basis) -> Option<Vec<Pair>> {
    let values: Vec<&[f64]> = samples.iter().map(|sample| sample.values.as_slice()).collect();
    games_howell::pairs_among(&values, |at| !basis.flat.contains(&samples[at].treatment), CONFIDENCE)
}

/// Why a row has no interval though the round is judged.
fn unjudged(basis: &Basis) -> Strength {
    match basis.strength {
        Strength::Full if basis.own_spreads => Strength::Flat,
        Strength::Full => Strength::NoScatter,
        other => other,
    }
}

/// Every pair of what was read, bare and all others together, by the spread of each or within uneven pieces.
fn over_all(samples: &[Sample], read: &[&Sample], basis: &Basis) -> Option<Vec<Pair>> {
    if basis.linked() {
        return pieces::linked_pairs(samples, &means_of(read.iter().copied()), basis.spread?, CONFIDENCE);
    }
    own_pairs(read, basis)
}

/// Puts the intervals of all pairs, over bare and all others together, in the place of Dunnett's against a control.
pub(super) fn with_pairs(
    table: &mut ControlTable,
    (samples, control): (&[Sample], Treatment),
    measure: &Measure,
) {
    let strength = table.basis.strength;
    if !matches!(strength, Strength::Full | Strength::FewDegrees) {
        return;
    }
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    let judged = over_all(samples, &read, &table.basis).unwrap_or_default();
    let none = unjudged(&table.basis);
    table.critical = None;
    for row in &mut table.rows {
        let place = |treatment| read.iter().position(|sample| sample.treatment == treatment);
        let pair = place(row.treatment).zip(place(control)).and_then(|(own, other)| {
            let pair = pair_of(&judged, own.min(other), own.max(other))?;
            // A pair stands in the order of the samples; the row counts from the control.
            Some(if own < other { (pair.low, pair.high, pair.p) } else { (-pair.high, -pair.low, pair.p) })
        });
        let interval = pair.map(|(low, high, _)| Interval { low, high });
        row.interval = interval;
        row.p = pair.filter(|_| strength == Strength::Full).map(|(_, _, p)| p);
        row.word = match (strength, interval) {
            (Strength::Full, Some(interval)) => Ok(word(interval, measure)),
            (_, None) => Err(none),
            (strength, _) => Err(strength),
        };
    }
}

/// The products that no other one is ahead of by an interval without zero; it stands for Hsu's set where spreads differ.
pub(super) fn unbeaten(table: &mut LeadTable, pairs: &PairTable, measure: &Measure) {
    let bound = &table.bound;
    let ahead = |row: &PairRow| {
        let interval = row.interval?;
        let better = if measure.direction == Direction::Lower { -1.0 } else { 1.0 };
        // Nobody falls short of a mean that is a bound.
        match (better * interval.low, better * interval.high) {
            (low, high) if low > 0.0 && high > 0.0 => Some(row.other).filter(|_| !bound.contains(&row.one)),
            (low, high) if low < 0.0 && high < 0.0 => Some(row.one).filter(|_| !bound.contains(&row.other)),
            _ => None,
        }
    };
    let beaten: Vec<ProductId> = pairs.rows.iter().filter_map(ahead).collect();
    let products = table.rows.iter().map(|row| row.product);
    let may_lead: Vec<ProductId> =
        products.filter(|product| !beaten.contains(product) && !bound.contains(product)).collect();
    // Where products are too much alike within themselves, no pair says who is ahead.
    let judged = pairs.rows.iter().any(|row| row.interval.is_some());
    let may_lead = if judged { Ok(may_lead) } else { Err(unjudged(&table.basis)) };
    table.may_lead = table.may_lead.as_ref().map_or_else(|strength| Err(*strength), |_| may_lead);
    for row in &mut table.rows {
        row.interval = None;
    }
    let alike = pairs.rows.iter().all(|row| row.word == Ok(Word::Alike));
    table.all_alike = table.all_alike.map(|_| alike);
}

/// Products are all alike where every pair of them is, by the words that the table of pairs shows.
pub(super) fn all_alike(table: &mut LeadTable, samples: &[Sample], measure: &Measure) {
    // Hsu's bounds are the nearer ones: where these leave it open the pairs do as well. Where pairs say who may lead they have said it.
    if !table.basis.by_pairs() && table.all_alike == Some(true) {
        let pairs = self::table(samples, &table.basis, measure);
        let alike = |table: &PairTable| table.rows.iter().all(|row| row.word == Ok(Word::Alike));
        table.all_alike = Some(pairs.as_ref().is_ok_and(alike));
    }
}

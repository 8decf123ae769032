//! Averages over sites: how sections that carry the same at the same site scatter, and the mean of every treatment over the sites alike.

use super::sample::Sample;
use crate::stats::anova::pooled_spread;
use crate::stats::blocks::{self, OnBlocks, WithinBlocks};
use crate::stats::{Spread, summary};
use std::collections::{BTreeMap, BTreeSet};

/// Degrees of freedom that the scatter needs before it stands for that beside blocks.
const FEWEST: f64 = 3.0;

/// The scatter within each treatment at each site, where the design has differences as averages over sites and every treatment that was
/// read was read at each site. What pieces add is taken out beside it.
///
/// `None` too where sections that are missing leave pieces uneven, or fewer than three degrees of freedom.
pub(super) fn spread(read: &[&Sample]) -> Option<Spread> {
    if read.len() < 2 || !stand_everywhere(read) {
        return None;
    }
    let all: BTreeSet<usize> = read.iter().flat_map(|sample| sample.places().iter().copied()).collect();
    let planks = read.iter().any(|sample| sample.blocks.as_slice() != sample.places());
    if planks && !(is_even(read) && lie_alike(read)) {
        return None;
    }
    let most = all.iter().max().map_or(0, |most| most + 1);
    let each = || read.iter().enumerate();
    let cells = each().flat_map(|(at, sample)| sample.places().iter().map(move |site| at * most + site));
    let values: Vec<f64> = read.iter().flat_map(|sample| sample.values.iter().copied()).collect();
    let pieces = read.iter().flat_map(|sample| sample.blocks.iter().copied());
    blocks::left(&values, &[cells.collect(), pieces.collect()]).filter(|spread| spread.df >= FEWEST)
}

/// Whether every treatment has as many sections at one site as at any other, so that its plain mean is its average over the sites.
pub(super) fn is_even(read: &[&Sample]) -> bool {
    read.iter().all(|sample| {
        let numbers: BTreeSet<usize> = counted(sample.places()).into_values().collect();
        numbers.len() == 1
    })
}

/// Whether every piece carries each treatment equally often.
fn lie_alike(read: &[&Sample]) -> bool {
    let own: Vec<BTreeMap<usize, usize>> = read.iter().map(|sample| counted(&sample.blocks)).collect();
    own.iter().all(|own| own.values().collect::<BTreeSet<_>>().len() == 1)
        && own.windows(2).all(|two| two[0].keys().eq(two[1].keys()))
}

fn counted(places: &[usize]) -> BTreeMap<usize, usize> {
    let mut counted = BTreeMap::new();
    for &place in places {
        *counted.entry(place).or_default() += 1;
    }
    counted
}

/// Whether differences are averages over sites by the design, and every treatment that was read was read at each.
fn stand_everywhere(read: &[&Sample]) -> bool {
    let averaged = |sample: &&Sample| sample.averaged && sample.blocks.len() == sample.values.len();
    let all: BTreeSet<usize> = read.iter().flat_map(|sample| sample.places().iter().copied()).collect();
    let everywhere = |sample: &&Sample| all.iter().all(|site| sample.places().contains(site));
    all.len() > 1 && read.iter().all(averaged) && read.iter().all(everywhere)
}

/// The same for the mean of one treatment by itself, in which what its own pieces add is chance: it stays in the scatter.
pub(super) fn of_single_means(samples: &[Sample]) -> Option<Spread> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    if stand_everywhere(&read) { within_cells(&read).filter(|spread| spread.df >= FEWEST) } else { None }
}

/// How sections of one treatment at one site scatter, pooled.
pub(super) fn within_cells(read: &[&Sample]) -> Option<Spread> {
    let cells: Vec<Vec<f64>> =
        read.iter().flat_map(|sample| cells(&sample.values, sample.places())).collect();
    pooled_spread(&cells)
}

/// The mean over the sites, each counting alike.
pub(super) fn mean(values: &[f64], places: &[usize]) -> Option<f64> {
    let means: Option<Vec<f64>> = cells(values, places).iter().map(|cell| summary::mean(cell)).collect();
    summary::mean(&means?)
}

/// The variance of that mean, in squares of the scatter within sites (Searle 1987, Linear Models for Unbalanced Data, chapter 4).
pub(super) fn variance(sample: &Sample) -> f64 {
    let at = counted(sample.places());
    at.values().map(|&n| 1.0 / n as f64).sum::<f64>() / (at.len() * at.len()) as f64
}

/// The values at each place.
fn cells(values: &[f64], places: &[usize]) -> Vec<Vec<f64>> {
    let mut at: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for (&value, &place) in values.iter().zip(places) {
        at.entry(place).or_default().push(value);
    }
    at.into_values().collect()
}

/// The mean of every treatment over the sites, each site counting alike, where sections stand at them unevenly.
pub(super) fn averaged(read: &[&Sample]) -> Option<WithinBlocks> {
    let at: Vec<OnBlocks<'_>> =
        read.iter().map(|sample| (sample.values.as_slice(), sample.places())).collect();
    blocks::averaged(&at)
}

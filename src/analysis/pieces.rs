//! Sections of one piece: averaged where the piece is the unit, compared with each other where it carries everything.

use super::model::{OnPiece, Piece};
use super::over_sites;
use super::sample::{Counted, Sample};
use crate::stats::blocks::{self, OnWays, WithinBlocks};
use crate::stats::{Pair, Spread, summary};
use crate::study::{Grouping, MeasureId, SectionId, Study, Treatment, Unit};
use std::collections::BTreeMap;

/// The piece of each section, where it matters to the comparison of a measure.
pub(super) fn pieces(study: &Study, measure: MeasureId) -> BTreeMap<SectionId, Piece> {
    let sites = study.by_site.as_ref();
    let (grouping, sites) = match study.unit(measure) {
        Unit::Section => return BTreeMap::new(),
        Unit::Piece(grouping) => {
            return numbered(grouping).into_iter().map(|(id, at)| (id, Piece::Unit(at))).collect();
        }
        Unit::Within(grouping) | Unit::Linked(grouping) => (grouping, sites.map(numbered)),
    };
    let site = |id| sites.as_ref().and_then(|sites| sites.get(&id).copied());
    let piece = if study.averages_over_sites() { Piece::AtSites } else { Piece::Block };
    numbered(grouping).into_iter().map(|(id, at)| (id, piece(OnPiece::new(at, site(id))))).collect()
}

/// The number of each section's piece.
fn numbered(grouping: &Grouping) -> BTreeMap<SectionId, usize> {
    let pieces = grouping.pieces().into_iter().enumerate();
    pieces.flat_map(|(at, (_, sections))| sections.into_iter().map(move |id| (id, at))).collect()
}

/// The numbers of the sections of one treatment, each with its piece and readings, as a sample; of a piece that is a unit, `middle` of its sections.
pub(super) fn sample(
    treatment: Treatment,
    own: impl Iterator<Item = (Option<Piece>, Counted)>,
    middle: fn(&[f64]) -> Option<f64>,
) -> Sample {
    let mut sample = Sample::empty(treatment);
    let mut whole: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for (piece, Counted { value, readings, carried }) in own {
        sample.readings += readings;
        sample.carried += usize::from(carried);
        match piece {
            Some(Piece::Unit(piece)) => whole.entry(piece).or_default().push(value),
            Some(own @ (Piece::Block(on) | Piece::AtSites(on))) => {
                sample.averaged = matches!(own, Piece::AtSites(..));
                sample.values.push(value);
                sample.blocks.push(on.piece);
                if on.several_sites {
                    sample.sites.push(on.place);
                }
            }
            None => sample.values.push(value),
        }
    }
    sample.values.extend(whole.values().filter_map(|values| middle(values)));
    sample
}

/// The spread of a number beside its treatment and its piece, or within each treatment at each site where differences are averages over sites, where every piece that was read carries every treatment
/// equally often, and every site as well where pieces stand at several; else `None`, since a mean then holds more of one piece or site
/// than of another.
///
/// Randomised complete blocks without interaction: the residual of treatment and block means, on N - t - b + 1 degrees of
/// freedom (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapter 14).
pub(super) fn spread_within(samples: &[Sample]) -> Option<Spread> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    if let Some(spread) = over_sites::spread(&read) {
        return over_sites::is_even(&read).then_some(spread);
    }
    let mut on: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
    for sample in &read {
        if sample.blocks.len() != sample.values.len() {
            return None;
        }
        for (&block, &value) in sample.blocks.iter().zip(&sample.values) {
            on.entry(block).or_default().push(value);
        }
    }
    let even = |sample: &&Sample| {
        let each = sample.values.len() / on.len().max(1);
        each > 0 && on.keys().all(|key| sample.blocks.iter().filter(|own| *own == key).count() == each)
    };
    let all: Vec<f64> = read.iter().flat_map(|sample| sample.values.iter().copied()).collect();
    let df = (all.len() + 1).checked_sub(read.len() + on.len()).filter(|&df| df > 0)?;
    if on.len() < 2 || read.len() < 2 || !read.iter().all(even) {
        return None;
    }
    if cross_sites(&read) {
        // Treatments that lie alike on pieces and at sites are free of what either adds.
        return if alike_at_sites(&read) { blocks::left(&all, &factors(&read)) } else { None };
    }
    let grand = summary::mean(&all)?;
    let of_block: BTreeMap<usize, f64> =
        on.iter().filter_map(|(&block, values)| Some((block, summary::mean(values)?))).collect();
    let mut squares = Vec::with_capacity(all.len());
    for sample in &read {
        let own = summary::mean(&sample.values)?;
        for (block, value) in sample.blocks.iter().zip(&sample.values) {
            squares.push((value - own - of_block.get(block)? + grand).powi(2));
        }
    }
    // Sorted, so that the order of rows changes no byte.
    squares.sort_unstable_by(f64::total_cmp);
    Some(Spread { sd: (squares.iter().sum::<f64>() / df as f64).sqrt(), df: df as f64 })
}

/// Whether some piece stands at several sites, so that what a site adds is not in what its pieces add.
fn cross_sites(read: &[&Sample]) -> bool {
    let mut site_of: BTreeMap<usize, usize> = BTreeMap::new();
    let mut places = read.iter().flat_map(|sample| sample.blocks.iter().zip(&sample.sites));
    places.any(|(&piece, &site)| *site_of.entry(piece).or_insert(site) != site)
}

/// Whether every site carries the same share of each treatment.
fn alike_at_sites(read: &[&Sample]) -> bool {
    let at = |sample: &Sample, site: usize| sample.sites.iter().filter(|own| **own == site).count();
    let sites = read.iter().flat_map(|sample| sample.sites.iter().copied());
    let Some(first) = read.first() else { return false };
    sites.into_iter().all(|site| {
        read.iter().all(|one| at(one, site) * first.values.len() == at(first, site) * one.values.len())
    })
}

/// The treatment of each value, then its blocks.
fn factors(read: &[&Sample]) -> Vec<Vec<usize>> {
    let ways = ways(read);
    let treatments = read.iter().enumerate().flat_map(|(at, sample)| vec![at; sample.values.len()]);
    let way =
        |at: usize| ways.iter().filter_map(|own| own.get(at)).flat_map(|own| own.iter().copied()).collect();
    std::iter::once(treatments.collect()).chain((0..ways.first().map_or(0, Vec::len)).map(way)).collect()
}

/// The blocks of each sample: its pieces, and its sites beside them where pieces stand at several.
pub(super) fn ways<'s>(read: &[&'s Sample]) -> Vec<Vec<&'s [usize]>> {
    let crossed = cross_sites(read);
    let own = |sample: &&'s Sample| {
        let sites = crossed.then_some(sample.sites.as_slice());
        std::iter::once(sample.blocks.as_slice()).chain(sites).collect()
    };
    read.iter().map(own).collect()
}

/// Treatments, pieces and sites by least squares, where every section that was read lies on a piece and these link all treatments; the
/// treatments stand in the order of the samples that were read.
pub(super) fn linked(samples: &[Sample]) -> Option<WithinBlocks> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    if over_sites::spread(&read).is_some() {
        return over_sites::averaged(&read);
    }
    let on_blocks: Vec<OnWays<'_>> =
        read.iter().map(|sample| sample.values.as_slice()).zip(ways(&read)).collect();
    if read.iter().any(|sample| sample.blocks.len() != sample.values.len()) {
        return None;
    }
    blocks::fit(&on_blocks)
}

/// The samples moved so that each has the mean that it has over all pieces alike, without what its own pieces add.
pub(super) fn levelled(samples: Vec<Sample>, found: &WithinBlocks) -> Vec<Sample> {
    let mut means = found.means.iter();
    let moved = |mut sample: Sample| {
        if let Some(own) = summary::mean(&sample.values)
            && let Some(over_all) = means.next()
        {
            sample.values.iter_mut().for_each(|value| *value += over_all.mean - own);
        }
        sample
    };
    samples.into_iter().map(moved).collect()
}

/// Every pair among some treatments, by their places in `among`, with the mean that each is given.
pub(super) fn linked_pairs(
    samples: &[Sample],
    among: &[(Treatment, f64)],
    spread: Spread,
    confidence: f64,
) -> Option<Vec<Pair>> {
    let found = linked(samples)?;
    let read: Vec<Treatment> =
        samples.iter().filter(|sample| !sample.values.is_empty()).map(|sample| sample.treatment).collect();
    let place =
        |&(treatment, mean): &(Treatment, f64)| Some((read.iter().position(|one| *one == treatment)?, mean));
    let among: Option<Vec<(usize, f64)>> = among.iter().map(place).collect();
    found.all_pairs(&among?, spread, confidence)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::ProductId;

    fn sample(at: usize, values: &[f64], blocks: &[usize]) -> Sample {
        let treatment = if at == 0 { Treatment::Bare } else { Treatment::Product(ProductId::new(at - 1)) };
        Sample { treatment, values: values.to_vec(), blocks: blocks.to_vec(), ..Sample::empty(treatment) }
    }

    /// Seeds of soybean that failed, of 100 planted, under five treatments in five blocks: sums of squares 83.84 between
    /// treatments, 49.84 between blocks, 86.56 left on 16 degrees of freedom, a mean square of 5.41 (Snedecor and Cochran
    /// 1989, Statistical Methods, table 14.2.1; from memory, and worked out anew from the counts).
    #[test]
    fn the_scatter_within_blocks_is_that_of_a_published_table() {
        let blocks = [0, 1, 2, 3, 4];
        let rows = [
            [8.0, 10.0, 12.0, 13.0, 11.0],
            [2.0, 6.0, 7.0, 11.0, 5.0],
            [4.0, 10.0, 9.0, 8.0, 10.0],
            [3.0, 5.0, 9.0, 10.0, 6.0],
            [9.0, 7.0, 5.0, 5.0, 3.0],
        ];
        let samples: Vec<Sample> =
            rows.iter().enumerate().map(|(at, row)| sample(at, row, &blocks)).collect();
        let found = spread_within(&samples).unwrap();
        assert!((found.df - 16.0).abs() < 1e-12);
        assert!((found.sd - (86.56_f64 / 16.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn a_block_that_lacks_a_section_gives_no_such_spread() {
        let whole = sample(0, &[1.0, 2.0, 3.0], &[0, 1, 2]);
        assert!(spread_within(&[whole, sample(1, &[2.0, 3.0, 5.0], &[0, 1, 2])]).is_some());
        let whole = sample(0, &[1.0, 2.0, 3.0], &[0, 1, 2]);
        assert_eq!(spread_within(&[whole, sample(1, &[2.0, 3.0], &[0, 1])]), None);
        let alone = sample(0, &[1.0, 2.0], &[0, 0]);
        assert_eq!(spread_within(&[alone, sample(1, &[1.0, 2.0], &[0, 0])]), None);
    }
}

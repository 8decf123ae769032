//! Treatment by piece or site: whether what is left within pieces is more than sections treated alike at one place scatter.

use super::against_control::CONFIDENCE;
use super::groups::ROUNDING;
use super::model::{ByPiece, Interaction, Interval, LessBare, PieceBare, PieceOrder, PiecePair};
use super::pieces::ways;
use super::sample::Sample;
use crate::stats::dunnett::against_control;
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, Spread, blocks, distributions, summary, tukey};
use crate::study::Treatment;
use std::collections::BTreeSet;

/// The F test of treatments by sites, or by pieces where there is one site, against the scatter of sections that carry the same at the
/// same place; `None` where no place carries anything twice, where that scatter is but the rounding of numbers as large as `level`, or
/// nothing is left to test. What pieces add is taken out at several sites too.
///
/// Two factors with replication, unevenly many: the sum of squares that a model without interaction leaves, less that of one with it
/// (Snedecor and Cochran 1989, Statistical Methods, 8th edition, chapters 16 and 20).
pub(super) fn by_piece(samples: &[Sample], level: f64, solved: &mut Solved) -> Option<ByPiece> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    if read.iter().any(|sample| sample.blocks.len() != sample.values.len()) {
        return None;
    }
    let pieces: BTreeSet<usize> = read.iter().flat_map(|sample| sample.places().iter().copied()).collect();
    let pieces: Vec<usize> = pieces.into_iter().collect();
    let alike = alike(&read).filter(|alike| alike.sd > ROUNDING * level)?;
    let only: Vec<&Sample> = read.iter().copied().filter(|sample| is_product(sample.treatment)).collect();
    let mean = |sample: &Sample, piece: usize| {
        let own = cell(sample, piece);
        Some(GroupMean { mean: summary::mean(&own)?, n: own.len() })
    };
    let row = |sample: &&Sample| {
        (sample.treatment, pieces.iter().map(|&piece| mean(sample, piece)).collect::<Vec<_>>())
    };
    let rows: Vec<(Treatment, Vec<Option<GroupMean>>)> = read.iter().map(row).collect();
    let all = interaction(&read, alike)?;
    let products = interaction(&only, alike);
    let stands_out = all.stands_out() || products.is_some_and(Interaction::stands_out);
    let (pairs, against_bare) = if stands_out && even_at(&read, &pieces) {
        told_apart(&rows, pieces.len(), alike, solved)
    } else {
        (Vec::new(), Vec::new())
    };
    let orders = pairs.iter().filter(|pair| pair.interval.leaves_out_zero()).map(|pair| {
        let above = pair.interval.low > 0.0;
        let (above, below) = if above { (pair.one, pair.other) } else { (pair.other, pair.one) };
        PieceOrder { place: pair.place, above, below }
    });
    let orders = orders.collect();
    let less_bare = (0..pieces.len()).map(|at| less_bare(&read, &rows, (&pieces, at), alike)).collect();
    Some(ByPiece { alike, all, products, pieces, rows, less_bare, orders, pairs, against_bare })
}

/// The mean over the products that lie on a piece, each counting alike, less that of bare there; only where every product lies there. Its
/// interval is Student's t, by Bonferroni over the pieces.
fn less_bare(
    read: &[&Sample],
    rows: &[(Treatment, Vec<Option<GroupMean>>)],
    (pieces, at): (&[usize], usize),
    alike: Spread,
) -> Option<LessBare> {
    let mean = |means: &[Option<GroupMean>]| means.get(at).copied().flatten().map(|own| own.mean);
    let products = rows.iter().filter(|(treatment, _)| is_product(*treatment));
    let products: Option<Vec<f64>> = products.map(|(_, means)| mean(means)).collect();
    let products = products?;
    let bare = rows.iter().find(|(treatment, _)| *treatment == Treatment::Bare)?;
    let plain = summary::mean(&products)? - mean(&bare.1)?;
    let laid = Laid::new(read);
    let weight = |cell: usize| match rows.get(cell / laid.most) {
        _ if Some(&(cell % laid.most)) != pieces.get(at) => 0.0,
        Some((Treatment::Product(_), _)) => 1.0 / products.len() as f64,
        Some((Treatment::Bare, _)) => -1.0,
        _ => 0.0,
    };
    let Some((difference, variance)) = blocks::weighted(&laid.values, &laid.cells, &laid.ways, weight) else {
        return Some(LessBare { difference: plain, interval: None });
    };
    let each = (1.0 - CONFIDENCE) / pieces.len() as f64;
    let t = distributions::t_quantile(1.0 - each / 2.0, alike.df);
    let half = t.map(|t| t * alike.sd * variance.sqrt());
    let interval = half.map(|half| Interval { low: difference - half, high: difference + half });
    Some(LessBare { difference, interval })
}

fn is_product(treatment: Treatment) -> bool {
    matches!(treatment, Treatment::Product(_))
}

fn cell(sample: &Sample, piece: usize) -> Vec<f64> {
    let own = sample.values.iter().zip(sample.places()).filter(|&(_, &block)| block == piece);
    own.map(|(&value, _)| value).collect()
}

/// Every value with its treatment, its place, both together, and its blocks.
struct Laid {
    values: Vec<f64>,
    treatments: Vec<usize>,
    cells: Vec<usize>,
    ways: Vec<Vec<usize>>,
    /// A cell is the number of its treatment times this, and its place.
    most: usize,
}

impl Laid {
    fn new(read: &[&Sample]) -> Self {
        let most = read.iter().flat_map(|sample| sample.places()).max().map_or(0, |most| most + 1);
        let own = ways(read);
        let way =
            |at: usize| own.iter().filter_map(|ways| ways.get(at).copied()).flatten().copied().collect();
        let each = || read.iter().enumerate();
        Self {
            values: read.iter().flat_map(|sample| sample.values.iter().copied()).collect(),
            treatments: each().flat_map(|(at, sample)| vec![at; sample.values.len()]).collect(),
            cells: each()
                .flat_map(|(at, sample)| sample.places().iter().map(move |place| at * most + place))
                .collect(),
            ways: (0..own.first().map_or(0, Vec::len)).map(way).collect(),
            most,
        }
    }

    fn left_by(&self, kind: &[usize]) -> Option<Spread> {
        let kinds: Vec<Vec<usize>> =
            std::iter::once(kind.to_vec()).chain(self.ways.iter().cloned()).collect();
        blocks::left(&self.values, &kinds)
    }

    /// What treatments and blocks leave.
    fn without(&self) -> Option<Spread> {
        self.left_by(&self.treatments)
    }

    /// What is left where every treatment may do otherwise at every place.
    fn within(&self) -> Option<Spread> {
        self.left_by(&self.cells)
    }
}

/// The scatter of sections that carry the same at the same place, beside what their pieces add.
fn alike(read: &[&Sample]) -> Option<Spread> {
    Laid::new(read).within()
}

fn interaction(read: &[&Sample], alike: Spread) -> Option<Interaction> {
    if read.len() < 2 {
        return None;
    }
    let laid = Laid::new(read);
    let squares = |spread: Spread| spread.sd * spread.sd * spread.df;
    let without = laid.without()?;
    let (within, within_df) = laid.within().map_or((0.0, 0.0), |own| (squares(own), own.df));
    let df = without.df - within_df;
    if df < 0.5 {
        return None;
    }
    let f = ((squares(without) - within) / df).max(0.0) / (alike.sd * alike.sd);
    Some(Interaction { f, df, p: distributions::f_tail(f, df, alike.df)? })
}

/// Whether at each place all that is there lies on the same blocks, so that means there differ by nothing that blocks add.
fn even_at(read: &[&Sample], places: &[usize]) -> bool {
    let on = |sample: &Sample, place: usize| -> BTreeSet<usize> {
        let own = sample.places().iter().zip(&sample.blocks).filter(|&(&own, _)| own == place);
        own.map(|(_, &block)| block).collect()
    };
    places.iter().all(|&place| {
        let own: BTreeSet<_> =
            read.iter().map(|sample| on(sample, place)).filter(|own| !own.is_empty()).collect();
        own.len() < 2
    })
}

/// Which products are told apart from each other, and from bare, at each place: Tukey and Dunnett on the scatter of sections alike, so
/// that all that is said at all places holds together (Bonferroni over the places).
fn told_apart(
    rows: &[(Treatment, Vec<Option<GroupMean>>)],
    places: usize,
    alike: Spread,
    solved: &mut Solved,
) -> (Vec<PiecePair>, Vec<PieceBare>) {
    let confidence = 1.0 - (1.0 - CONFIDENCE) / places as f64;
    let over_all = |p: f64| (p * places as f64).min(1.0);
    let (mut all, mut against_bare) = (Vec::new(), Vec::new());
    for place in 0..places {
        let read = |(treatment, means): &(Treatment, Vec<Option<GroupMean>>)| {
            Some((*treatment, *means.get(place)?.as_ref()?))
        };
        let (products, means): (Vec<Treatment>, Vec<GroupMean>) =
            rows.iter().filter(|(treatment, _)| is_product(*treatment)).filter_map(read).unzip();
        let pairs = tukey::all_pairs(&means, alike, confidence).unwrap_or_default();
        all.extend(pairs.iter().map(|pair| PiecePair {
            place,
            one: products[pair.one],
            other: products[pair.other],
            difference: pair.difference,
            interval: Interval { low: pair.low, high: pair.high },
            p: over_all(pair.p),
        }));
        let bare = rows.iter().find(|(treatment, _)| *treatment == Treatment::Bare).and_then(read);
        let Some((_, bare)) = bare else { continue };
        let judged = against_control(&means, bare, alike, confidence, solved).unwrap_or_default();
        against_bare.extend(products.iter().zip(&means).zip(judged).map(|((&treatment, mean), row)| {
            PieceBare {
                place,
                treatment,
                difference: mean.mean - bare.mean,
                told: row.low > 0.0 || row.high < 0.0,
                interval: Interval { low: row.low, high: row.high },
                p: over_all(row.p),
            }
        }));
    }
    (all, against_bare)
}

/// The samples for comparisons of products among themselves at several sites: of everything else the sections at each site stand as a sample of their
/// own, so that what bare does otherwise at one site than at another is neither in the scatter of products nor in what their blocks add.
/// With them that scatter. `None` at one site, where no site carries anything twice, or too few degrees of freedom are left for words.
pub(super) fn among_products(samples: &[Sample], fewest: f64) -> Option<(Vec<Sample>, Spread)> {
    let read: Vec<&Sample> = samples.iter().filter(|sample| !sample.values.is_empty()).collect();
    let uncut = read.iter().any(|sample| {
        [&sample.blocks, &sample.sites].iter().any(|places| places.len() != sample.values.len())
    });
    if uncut || read.iter().all(|sample| is_product(sample.treatment)) {
        return None;
    }
    alike(&read)?;
    let apart: Vec<Sample> = samples.iter().flat_map(by_place).collect();
    let laid = Laid::new(&apart.iter().filter(|sample| !sample.values.is_empty()).collect::<Vec<_>>());
    let spread = laid.without().filter(|spread| spread.df >= fewest)?;
    Some((apart, spread))
}

fn by_place(sample: &Sample) -> Vec<Sample> {
    if is_product(sample.treatment) || sample.values.is_empty() {
        return vec![sample.clone()];
    }
    let places: BTreeSet<usize> = sample.places().iter().copied().collect();
    let at = |place: usize| {
        let own = |&at: &usize| sample.places()[at] == place;
        let kept: Vec<usize> = (0..sample.values.len()).filter(own).collect();
        Sample {
            values: kept.iter().map(|&at| sample.values[at]).collect(),
            blocks: kept.iter().map(|&at| sample.blocks[at]).collect(),
            sites: kept.iter().filter_map(|&at| sample.sites.get(at).copied()).collect(),
            ..*sample
        }
    };
    places.into_iter().map(at).collect()
}

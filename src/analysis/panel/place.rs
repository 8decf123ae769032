//! What lies where on the panel before anything went on: a trend from edge to edge, and likeness of neighbours.

use super::super::model::{Fall, Interval, PanelTrend, PlaceLevel, Unsaid, Way};
use super::Start;
use super::neighbours::Neighbours;
use crate::stats::map::moran::{self, Likeness};
use crate::stats::map::plane;
use crate::stats::random::Generator;
use crate::stats::summary;
use crate::study::{MeasureId, Outline, SectionId, SiteId, Study};
use std::collections::BTreeMap;

/// The fewest sections to lay a plane through, beyond one for each site: one and two give it, two more tell how well it lies.
const FEWEST_FOR_PLANE: usize = 4;
/// The fewest sections with neighbours whose likeness is told: fewer have too few orders.
const FEWEST_NEIGHBOURS: usize = 6;
/// The seed of the orders that are drawn, to which the place of the measure is added.
const SEED: u64 = 20_260_301;
/// So many values are put into a new order at most, in all orders together.
const EFFORT: usize = 5_000_000;

/// For every section the number of its site among those that have one; all 0 where there is one site.
fn sites(study: &Study, start: &[Start<'_>]) -> Vec<usize> {
    let of = |one: &Start<'_>| study.section(one.section).site;
    let mut known: Vec<Option<SiteId>> = start.iter().map(of).collect();
    known.sort_unstable();
    known.dedup();
    start.iter().map(|one| known.binary_search(&of(one)).unwrap_or(0)).collect()
}

/// The plane through the section means, from edge to edge; each site has a mean of its own, and what sites differ by is no slope.
pub(super) fn trend(study: &Study, start: &[Start<'_>]) -> Result<PanelTrend, Unsaid> {
    let outlines: Vec<&Outline> = start.iter().filter_map(|one| one.outline).collect();
    if outlines.len() < start.len() {
        return Err(Unsaid::NoPlaces);
    }
    let of_site = sites(study, start);
    let count = of_site.iter().max().map_or(1, |last| last + 1);
    if start.len() < count + FEWEST_FOR_PLANE {
        return Err(Unsaid::FewSections(start.len(), count + FEWEST_FOR_PLANE));
    }
    let middles: Vec<(f64, f64)> = outlines.iter().map(|outline| middle(outline)).collect();
    let levels: Vec<f64> = start.iter().map(|one| one.mean).collect();
    let plane = plane::fit(&middles, &levels, &of_site).ok_or(Unsaid::OneLine)?;
    let panel = study.surface.outline.as_ref().filter(|_| count == 1).map(|outline| outline.value.bounds());
    let (left, top, right, bottom) =
        panel.or_else(|| around(&outlines, &of_site, count)).ok_or(Unsaid::NoPlaces)?;
    let (along, across): (Vec<f64>, Vec<f64>) = middles.iter().copied().unzip();
    let level = summary::mean(&levels).ok_or(Unsaid::NotRead)?;
    let fall = |slope: plane::Slope, (from, to): (f64, f64), places: &[f64]| {
        let (rise, low, high) = plane.rise(slope, to - from, 0.95).ok_or(Unsaid::OneLine)?;
        // The plane goes through the mean level at the mean place.
        let middle = summary::mean(places).ok_or(Unsaid::NoPlaces)?;
        let ends = [from, to].map(|edge| (edge, level + slope.value * (edge - middle)));
        Ok(Fall { rise, interval: Interval { low, high }, ends })
    };
    Ok(PanelTrend {
        sections: start.len(),
        sites: count,
        across: fall(plane.along, (left, right), &along)?,
        down: fall(plane.across, (top, bottom), &across)?,
        steepest: steepest(plane),
        p: plane.p,
        to_edges: panel.is_some(),
    })
}

/// The bounds of all sections of a site; of several those of the widest and of the highest, from 0.
fn around(outlines: &[&Outline], of_site: &[usize], count: usize) -> Option<(f64, f64, f64, f64)> {
    let of = |site: usize| {
        let own = outlines.iter().zip(of_site).filter(move |(_, own)| **own == site);
        let bounds = own.map(|(outline, _)| outline.bounds());
        bounds.reduce(|a, b| (a.0.min(b.0), a.1.min(b.1), a.2.max(b.2), a.3.max(b.3)))
    };
    if count == 1 {
        return of(0);
    }
    let sizes = (0..count).filter_map(of).map(|(left, top, right, bottom)| (right - left, bottom - top));
    sizes.reduce(|a, b| (a.0.max(b.0), a.1.max(b.1))).map(|(width, height)| (0.0, 0.0, width, height))
}

/// Where a plane rises most, as one of eight ways; `None` where it is level.
fn steepest(plane: plane::Plane) -> Option<Way> {
    let (along, across) = (plane.along.value, plane.across.value);
    // An eighth of a turn has its middle on the way: beyond tan(67.5 deg) the other slope is as good as none.
    let alone = std::f64::consts::SQRT_2 + 1.0;
    let sign = |slope: f64, other: f64| {
        if slope == 0.0 || other.abs() > alone * slope.abs() {
            0
        } else if slope > 0.0 {
            1
        } else {
            -1
        }
    };
    Some(Way { right: sign(along, across), down: sign(across, along) }).filter(|way| *way != Way::default())
}

/// The sections that have a place, with their levels.
pub(super) fn levels(start: &[Start<'_>]) -> Vec<PlaceLevel> {
    let of = |one: &Start<'_>| {
        Some(PlaceLevel { section: one.section, middle: middle(one.outline?), level: one.mean })
    };
    start.iter().filter_map(of).collect()
}

pub(super) fn middle(outline: &Outline) -> (f64, f64) {
    let (left, top, right, bottom) = outline.bounds();
    (f64::midpoint(left, right), f64::midpoint(top, bottom))
}

/// The seed of the orders that are drawn for a measure.
pub(super) fn seed(measure: MeasureId) -> u64 {
    SEED + measure.index() as u64
}

/// Moran's I of the section means, each off the mean of its site, over neighbours above, below and at the sides.
pub(super) fn likeness(
    study: &Study,
    measure: MeasureId,
    start: &[Start<'_>],
    neighbours: &Neighbours,
) -> Result<Likeness, Unsaid> {
    let number: BTreeMap<SectionId, usize> =
        start.iter().enumerate().map(|(at, one)| (one.section, at)).collect();
    let of = |one: &Start<'_>| {
        neighbours.all(one.section).filter_map(|other| number.get(&other).copied()).collect::<Vec<usize>>()
    };
    let beside: Vec<Vec<usize>> = start.iter().map(of).collect();
    let with = beside.iter().filter(|all| !all.is_empty()).count();
    if with < 3 {
        return Err(Unsaid::NoNeighbours);
    }
    if with < FEWEST_NEIGHBOURS {
        return Err(Unsaid::FewSections(with, FEWEST_NEIGHBOURS));
    }
    let levels: Vec<f64> = start.iter().map(|one| one.mean).collect();
    let orders = (EFFORT / with).clamp(199, 9_999);
    let mut random = Generator::new(seed(measure));
    let sites = sites(study, start);
    moran::likeness(&levels, (&beside, &sites), orders, &mut random).ok_or(Unsaid::SectionsEqual)
}

//! What lies where on the panel: a trend from edge to edge, likeness of neighbours, and each section beside its own.

use super::super::groups;
use super::super::model::{Beside, Fall, Interval, PanelTrend, PlaceLevel, SectionSeries, Unsaid};
use super::Start;
use super::neighbours::Neighbours;
use crate::stats::map::moran::{self, Likeness};
use crate::stats::map::plane;
use crate::stats::random::Generator;
use crate::stats::summary;
use crate::study::{MeasureId, Outline, SectionId, Surface};
use std::collections::BTreeMap;

/// The fewest sections to lay a plane through: three give it, two more tell how well it lies.
const FEWEST_FOR_PLANE: usize = 5;
/// The fewest sections with neighbours whose likeness is told: fewer have too few orders.
const FEWEST_NEIGHBOURS: usize = 6;
/// The seed of the orders that are drawn, to which the place of the measure is added.
const SEED: u64 = 20_260_301;
/// So many values are put into a new order at most, in all orders together.
const EFFORT: usize = 5_000_000;

/// The plane through the section means, from edge to edge.
pub(super) fn trend(surface: &Surface, start: &[Start<'_>]) -> Result<PanelTrend, Unsaid> {
    let middles: Vec<(f64, f64)> = start.iter().filter_map(|one| Some(middle(one.outline?))).collect();
    if middles.len() < start.len() {
        return Err(Unsaid::NoPlaces);
    }
    if start.len() < FEWEST_FOR_PLANE {
        return Err(Unsaid::FewSections(start.len(), FEWEST_FOR_PLANE));
    }
    let levels: Vec<f64> = start.iter().map(|one| one.mean).collect();
    let plane = plane::fit(&middles, &levels).ok_or(Unsaid::OneLine)?;
    let panel = surface.outline.as_ref().map(|outline| outline.value.bounds());
    let sections = start.iter().filter_map(|one| Some(one.outline?.bounds()));
    let around = sections.reduce(|a, b| (a.0.min(b.0), a.1.min(b.1), a.2.max(b.2), a.3.max(b.3)));
    let (left, top, right, bottom) = panel.or(around).ok_or(Unsaid::NoPlaces)?;
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
        across: fall(plane.along, (left, right), &along)?,
        down: fall(plane.across, (top, bottom), &across)?,
        p: plane.p,
        to_edges: panel.is_some(),
    })
}

/// The sections that have a place, with their levels.
pub(super) fn levels(start: &[Start<'_>]) -> Vec<PlaceLevel> {
    let of = |one: &Start<'_>| {
        Some(PlaceLevel { section: one.section, middle: middle(one.outline?), level: one.mean })
    };
    start.iter().filter_map(of).collect()
}

fn middle(outline: &Outline) -> (f64, f64) {
    let (left, top, right, bottom) = outline.bounds();
    (f64::midpoint(left, right), f64::midpoint(top, bottom))
}

/// The seed of the orders that are drawn for a measure.
pub(super) fn seed(measure: MeasureId) -> u64 {
    SEED + measure.index() as u64
}

/// Moran's I of the section means over neighbours above, below and at the sides.
pub(super) fn likeness(
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
    moran::likeness(&levels, &beside, orders, &mut random).ok_or(Unsaid::SectionsEqual)
}

/// Every section with a change, beside those around it.
pub(super) fn beside(series: &[SectionSeries], place: usize, neighbours: &Neighbours) -> Vec<Beside> {
    let changes: BTreeMap<SectionId, f64> = series
        .iter()
        .filter_map(|series| Some((series.section, groups::change(&series.at[place]).ok()?)))
        .collect();
    let known = |others: &[SectionId]| {
        let values: Vec<f64> = others.iter().filter_map(|other| changes.get(other).copied()).collect();
        summary::mean(&values)
    };
    let of = |series: &SectionSeries| {
        let change = *changes.get(&series.section)?;
        let less = |others: &[SectionId]| known(others).map(|mean| change - mean);
        Some(Beside {
            section: series.section,
            treatment: series.treatment,
            change,
            above: less(neighbours.above(series.section)),
            sides: less(neighbours.sides(series.section)),
        })
    };
    let all: Vec<Beside> = series.iter().filter_map(of).collect();
    if all.iter().any(|one| one.above.is_some() || one.sides.is_some()) { all } else { Vec::new() }
}

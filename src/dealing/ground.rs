//! Where sections lie to each other: positions in places of the drawing, sites, pieces, and what they lie beside.

use crate::layout::distance;
use crate::study::{Grouping, Outline, Section, SiteId, Study, Treatment};

/// A section that lies nearer to an avoided or curved area than this part of its shorter side lies beside it.
const BESIDE: f64 = 0.5;

/// One section as the score sees it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spot {
    /// Site, from 0.
    pub(super) site: usize,
    /// Across from the middle of its site, in places.
    pub(super) x: f64,
    /// Down from the middle of its site, in places.
    pub(super) y: f64,
    /// Row of the drawing.
    pub(super) row: Option<usize>,
    /// Place in the row.
    pub(super) column: Option<usize>,
    /// The piece that it was cut from.
    pub(super) piece: Option<usize>,
    /// Whether an avoided or curved area is near.
    pub(super) beside: bool,
}

/// Every section of the map, in its order.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ground {
    pub(super) spots: Vec<Spot>,
    /// What the drawing says of each; open ones are [`Treatment::Open`].
    pub(super) drawn: Vec<Treatment>,
}

impl Ground {
    /// `None` where a section has no place.
    pub(super) fn of(study: &Study) -> Option<Self> {
        let middles: Vec<(f64, f64)> = study.sections.iter().map(middle).collect::<Option<_>>()?;
        let step = step(study, &middles);
        let sites = study.sites.len().max(1);
        let at = |section: &Section| section.site.map_or(0, SiteId::index);
        let centres: Vec<(f64, f64)> = (0..sites)
            .map(|site| {
                let own = study.sections.iter().zip(&middles).filter(|(section, _)| at(section) == site);
                mean(&own.map(|(_, middle)| *middle).collect::<Vec<_>>())
            })
            .collect();
        let piece = |section: &Section| {
            let group = study.groups.first()?;
            let name = group.of(study, section)?;
            position(group, name)
        };
        let spots = study
            .sections
            .iter()
            .zip(&middles)
            .map(|(section, &(x, y))| {
                let site = at(section);
                Spot {
                    site,
                    x: (x - centres[site].0) / step.0,
                    y: (y - centres[site].1) / step.1,
                    row: section.row,
                    column: section.column,
                    piece: piece(section),
                    beside: section.outline.as_ref().is_some_and(|outline| is_beside(study, outline)),
                }
            })
            .collect();
        let drawn = study.sections.iter().map(|section| section.treatment).collect();
        Some(Self { spots, drawn })
    }

    /// Distance of two sections in places; `None` at two sites.
    pub(super) fn apart(&self, one: usize, other: usize) -> Option<f64> {
        let (a, b) = (&self.spots[one], &self.spots[other]);
        (a.site == b.site).then(|| (a.x - b.x).hypot(a.y - b.y))
    }
}

fn middle(section: &Section) -> Option<(f64, f64)> {
    let (left, top, right, bottom) = section.outline.as_ref()?.bounds();
    Some((f64::midpoint(left, right), f64::midpoint(top, bottom)))
}

fn mean(points: &[(f64, f64)]) -> (f64, f64) {
    let n = points.len().max(1) as f64;
    (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n)
}

/// From one place to the next, across and down, mm; of named sections their mean width and height.
fn step(study: &Study, middles: &[(f64, f64)]) -> (f64, f64) {
    let next = |of: &dyn Fn(&Section) -> Option<usize>,
                value: &dyn Fn(usize) -> f64,
                same: &dyn Fn(&Section) -> Option<usize>| {
        let sections = &study.sections;
        let pairs = (0..sections.len()).zip(1..sections.len());
        let mut steps = pairs.filter_map(|(one, _)| {
            (one + 1..sections.len())
                .find(|&other| {
                    same(&sections[one]).is_some()
                        && same(&sections[one]) == same(&sections[other])
                        && sections[one].site == sections[other].site
                        && of(&sections[one]).zip(of(&sections[other])).is_some_and(|(a, b)| b == a + 1)
                })
                .map(|other| (value(other) - value(one)).abs())
        });
        steps.next().filter(|step| *step > 0.0)
    };
    let (row, column) = (|section: &Section| section.row, |section: &Section| section.column);
    let sizes: Vec<(f64, f64)> = study
        .sections
        .iter()
        .filter_map(|section| section.outline.as_ref().map(Outline::bounds))
        .map(|(left, top, right, bottom)| (right - left, bottom - top))
        .collect();
    let usual = mean(&sizes);
    let across = next(&column, &|at| middles[at].0, &row);
    let down = next(&row, &|at| middles[at].1, &column);
    (across.unwrap_or(usual.0).max(f64::MIN_POSITIVE), down.unwrap_or(usual.1).max(f64::MIN_POSITIVE))
}

fn position(group: &Grouping, name: &str) -> Option<usize> {
    group.pieces().iter().position(|(piece, _)| piece.eq_ignore_ascii_case(name))
}

fn is_beside(study: &Study, outline: &Outline) -> bool {
    let (left, top, right, bottom) = outline.bounds();
    let near = BESIDE * (right - left).min(bottom - top);
    let mut areas = study.surface.avoid.iter().chain(&study.surface.curved);
    areas.any(|area| distance(&area.outline, outline) < near)
}

//! Whether the place of a section acts on the number that is compared, whatever it carries, and each section beside its own.

use super::super::basis::DEGREES_FOR_WORDS;
use super::super::groups;
use super::super::model::{
    Basis, Beside, Interval, MeasureAnalysis, MovedByPlace, Piece, PlaceAt, Rise, Role, RoundAnalysis,
    ScatterOf, SectionSeries, Strength, Unsaid, WithoutPlace,
};
use super::leaders::{self, OnPlane};
use super::neighbours::Neighbours;
use super::place::middle;
use crate::stats::map::plane;
use crate::stats::solved::Solved;
use crate::stats::{blocks, holm, summary};
use crate::study::{SectionId, Study, Treatment};
use std::collections::{BTreeMap, BTreeSet};

/// The confidence of intervals.
const CONFIDENCE: f64 = 0.95;

/// Sections with a number of their own at a round, and the groups by which they are alike: treatments, and what else the comparison takes
/// out. One that was stopped has no number of the round, and one that is not even prepared stands for another surface.
struct Alike<'a> {
    sections: Vec<&'a SectionSeries>,
    values: Vec<f64>,
    kinds: Vec<Vec<usize>>,
}

impl<'a> Alike<'a> {
    fn of(study: &Study, analysed: &'a MeasureAnalysis, place: usize) -> Self {
        let pick = groups::compared(analysed.compared);
        let prepared = analysed.sections.iter().filter(|series| series.treatment != Treatment::Untouched);
        let own = prepared.filter_map(|series| Some((series, pick(series.at.get(place)?).ok()?)));
        let (sections, values): (Vec<&SectionSeries>, Vec<f64>) = own.unzip();
        let basis = analysed.rounds.get(place).and_then(basis);
        let within = basis.is_some_and(|basis| basis.within_pieces() || basis.over_sites);
        let averaged = basis.is_some_and(|basis| basis.over_sites);
        let carried = |series: &SectionSeries| {
            let site = match series.piece {
                Some(Piece::AtSites(on)) if averaged => Some(on.place),
                _ => None,
            };
            (series.treatment, site)
        };
        let piece = |series: &SectionSeries| match series.piece {
            Some(Piece::Block(on) | Piece::AtSites(on)) if within => Some(on.piece),
            _ => None,
        };
        let kinds = vec![
            numbered(sections.iter().map(|one| carried(one))),
            numbered(sections.iter().map(|one| study.section(one.section).site)),
            numbered(sections.iter().map(|one| piece(one))),
        ];
        Self { sections, values, kinds }
    }

    /// Holds sections without a product alike by treatment and site, or piece where there is one site, as comparisons of products do which
    /// have nothing in their scatter of what bare does otherwise from place to place.
    fn part_others(&mut self) {
        let of = |series: &SectionSeries| {
            let place = match series.piece {
                Some(Piece::Block(on) | Piece::AtSites(on)) => Some(on.place),
                _ => None,
            };
            (series.treatment, place.filter(|_| !matches!(series.treatment, Treatment::Product(_))))
        };
        self.kinds[0] = numbered(self.sections.iter().map(|one| of(one)));
    }

    /// Whether each shares its treatment with another, so that anything is left of it beside the groups.
    fn shared(&self) -> Vec<bool> {
        let own = &self.kinds[0];
        let mut sizes = vec![0; own.iter().max().map_or(0, |most| most + 1)];
        for &group in own {
            sizes[group] += 1;
        }
        own.iter().map(|&group| sizes[group] > 1).collect()
    }

    /// Readings at a round on those that do.
    fn readings(&self, place: usize) -> usize {
        let own = self.sections.iter().zip(self.shared()).filter(|(_, shared)| *shared);
        own.filter_map(|(series, _)| Some(series.at.get(place)?.n as usize)).sum()
    }
}

/// What the comparison of a round rests on, where its sections scatter.
fn basis(round: &RoundAnalysis) -> Option<&Basis> {
    let lead = round.lead.as_ref().ok().map(|table| &table.basis);
    let basis = round.to_bare.as_ref().ok().map(|table| &table.basis).or(lead);
    basis.filter(|basis| matches!(basis.strength, Strength::Full | Strength::FewDegrees))
}

/// Each by its place among those that differ.
fn numbered<T: Ord + Copy>(all: impl Iterator<Item = T>) -> Vec<usize> {
    let all: Vec<T> = all.collect();
    let known: Vec<T> = all.iter().copied().collect::<BTreeSet<T>>().into_iter().collect();
    all.iter().map(|one| known.binary_search(one).unwrap_or(0)).collect()
}

/// The plane of every round that compares anything; `place` is the round that is shown in full, which stands alone at 5 %.
pub(super) fn moved(
    study: &Study,
    analysed: &MeasureAnalysis,
    place: usize,
    solved: &mut Solved,
) -> Option<MovedByPlace> {
    if analysed.sections.iter().any(|series| matches!(series.piece, Some(Piece::Unit(_)))) {
        return None;
    }
    let judged = |at: usize, round: &RoundAnalysis| {
        at != place && round.role != Role::UpToReference && basis(round).is_some()
    };
    let others = analysed.rounds.iter().enumerate().filter(|(at, round)| judged(*at, round));
    let mut others: Vec<PlaceAt> = others.filter_map(|(at, _)| at_round(study, analysed, at).ok()).collect();
    let found: Vec<f64> = others.iter().map(|at| at.p).collect();
    let adjusted = holm::adjusted(&found).unwrap_or_default();
    others.iter_mut().zip(adjusted).for_each(|(at, p)| at.p_holm = Some(p));
    analysed.rounds.get(place).and_then(basis)?;
    let mut shown = at_round(study, analysed, place);
    if let Ok(at) = &mut shown {
        at.may_lead = may_lead(study, analysed, place, solved);
    }
    Some(MovedByPlace { measure: analysed.measure, shown, others })
}

fn at_round(study: &Study, analysed: &MeasureAnalysis, place: usize) -> Result<PlaceAt, Unsaid> {
    let alike = Alike::of(study, analysed, place);
    let outlined = |one: &&SectionSeries| study.section(one.section).outline.as_ref().map(middle);
    let middles: Option<Vec<(f64, f64)>> = alike.sections.iter().map(outlined).collect();
    let middles = middles.ok_or(Unsaid::NoPlaces)?;
    let left = blocks::left(&alike.values, &alike.kinds).ok_or(Unsaid::FewDegrees)?;
    if left.df < DEGREES_FOR_WORDS + 2.0 {
        return Err(Unsaid::FewDegrees);
    }
    let found = plane::beside(&middles, &alike.values, &alike.kinds).ok_or(Unsaid::OneLine)?;
    let (sites, carried) = (&alike.kinds[1], alike.sections.iter().map(|one| one.treatment));
    let widest = |way: fn(&(f64, f64)) -> f64| {
        let own = |site: usize| middles.iter().zip(sites).filter(move |(_, own)| **own == site);
        let span = |site: usize| {
            let (low, high) = own(site)
                .map(|(at, _)| way(at))
                .fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
            high - low
        };
        sites.iter().map(|&site| span(site)).fold(0.0, f64::max)
    };
    let rise = |slope: plane::Slope, over: f64| {
        let (by, low, high) = found.plane.rise(slope, over, CONFIDENCE)?;
        Some(Rise { by, interval: Interval { low, high } })
    };
    let mean_at = |site: usize, way: fn(&(f64, f64)) -> f64| {
        let own = middles.iter().zip(sites).filter(|(_, own)| **own == site);
        summary::mean(&own.map(|(at, _)| way(at)).collect::<Vec<f64>>()).unwrap_or(0.0)
    };
    let mut added: BTreeMap<Treatment, Vec<f64>> = BTreeMap::new();
    for ((at, &site), treatment) in middles.iter().zip(sites).zip(carried) {
        let (x, y) = (at.0 - mean_at(site, |at| at.0), at.1 - mean_at(site, |at| at.1));
        let by = found.plane.along.value * x + found.plane.across.value * y;
        added.entry(treatment).or_default().push(by);
    }
    Ok(PlaceAt {
        round: analysed.rounds[place].round,
        sections: alike.shared().iter().filter(|shared| **shared).count(),
        readings: alike.readings(place),
        across: rise(found.plane.along, widest(|at| at.0)).ok_or(Unsaid::OneLine)?,
        down: rise(found.plane.across, widest(|at| at.1)).ok_or(Unsaid::OneLine)?,
        f: found.f,
        p: found.plane.p.ok_or(Unsaid::NoScatter)?,
        p_holm: None,
        without: found.without,
        with: found.with,
        adds: added.into_iter().filter_map(|(one, by)| Some((one, summary::mean(&by)?))).collect(),
        may_lead: None,
    })
}

/// Who may lead by the numbers less the plane, on what the comparison itself takes out beside it.
fn may_lead(
    study: &Study,
    analysed: &MeasureAnalysis,
    place: usize,
    solved: &mut Solved,
) -> Option<WithoutPlace> {
    let table = analysed.rounds.get(place)?.lead.as_ref().ok()?;
    let mut alike = Alike::of(study, analysed, place);
    // Whether pieces or sites are in what is compared: else what sections of one site add is in it, and the plane would take it out.
    let sites = alike.kinds[1].iter().max().is_some_and(|&last| last > 0);
    if sites && !table.basis.within_pieces() {
        return None;
    }
    if table.basis.scatter_of == ScatterOf::Products {
        alike.part_others();
    }
    let outlined = |one: &&SectionSeries| study.section(one.section).outline.as_ref().map(middle);
    let middles: Vec<(f64, f64)> = alike.sections.iter().map(outlined).collect::<Option<_>>()?;
    let found = plane::beside(&middles, &alike.values, &alike.kinds)?;
    let each = alike.sections.iter().zip(&middles).zip(&alike.values);
    let each: Vec<OnPlane> =
        each.map(|((one, &at), &value)| OnPlane { treatment: one.treatment, at, value }).collect();
    leaders::without_place(table, &each, &found, (study.measure(analysed.measure).direction, solved))
}

/// Every section with a number, beside those around it: each off the mean of what it carries, so that what products differ by is in
/// no difference.
pub(super) fn beside(
    study: &Study,
    analysed: &MeasureAnalysis,
    place: usize,
    neighbours: &Neighbours,
) -> Vec<Beside> {
    let alike = Alike::of(study, analysed, place);
    let left = blocks::residuals(&alike.values, &alike.kinds).map(|(left, _)| left).unwrap_or_default();
    let own = alike.sections.iter().zip(left).zip(alike.shared());
    let off: BTreeMap<SectionId, f64> =
        own.filter(|(_, shared)| *shared).map(|((one, left), _)| (one.section, left)).collect();
    let known = |others: &[SectionId]| {
        let values: Vec<f64> = others.iter().filter_map(|other| off.get(other).copied()).collect();
        summary::mean(&values)
    };
    let of = |(series, &value): (&&SectionSeries, &f64)| {
        let off = off.get(&series.section).copied();
        let less = |others: &[SectionId]| Some(off? - known(others)?);
        Beside {
            section: series.section,
            treatment: series.treatment,
            value,
            off,
            above: less(neighbours.above(series.section)),
            sides: less(neighbours.sides(series.section)),
        }
    };
    let all: Vec<Beside> = alike.sections.iter().zip(&alike.values).map(of).collect();
    if all.iter().any(|one| one.above.is_some() || one.sides.is_some()) { all } else { Vec::new() }
}

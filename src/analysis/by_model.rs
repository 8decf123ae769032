//! The rates of treatments by one mixed model of all levels, beside the means of the rates of sections.

use super::model::{Agreement, GroupOverTime, Interval, ModelRate, Piece};
use super::on_coat::Run;
use crate::stats::components::mixed::{self, Mixed, Rows};
use crate::stats::summary;
use crate::study::{RoundId, Treatment};
use std::collections::BTreeMap;

const CONFIDENCE: f64 = 0.95;

/// What the model takes for one section: a section, or the mean of those of a piece that is the unit.
struct Unit {
    treatment: Treatment,
    /// Its site, where rates are averages over sites.
    site: Option<usize>,
    /// As those of a run.
    points: Vec<(usize, f64, f64)>,
    readings: u32,
}

/// Adds the rates by the model to those of the groups, and says how far the two lie apart; `rounds` are those that places count.
///
/// A treatment has a mean at each of its rounds, and every section keeps a level of its own about them and a rate that differs at random:
/// restricted maximum likelihood, degrees of freedom after Satterthwaite. A random level alone would take the rounds of a section for
/// independent of what its own rate happens to be, and a straight line would take for scatter how a treatment bends. Sections
/// without the last round take part with what they have.
pub(super) fn add(
    groups: &mut [GroupOverTime],
    runs: &[Run],
    rounds: &[RoundId],
    (over_sites, differ): (bool, bool),
) -> Option<Agreement> {
    let units = units(runs, over_sites);
    let of_one = |treatment| units.iter().filter(|unit| unit.treatment == treatment).collect::<Vec<_>>();
    let together = if differ { None } else { Fit::of(&units.iter().collect::<Vec<_>>()) };
    for group in &mut *groups {
        let own = of_one(group.treatment);
        let alone = if differ { Fit::of(&own) } else { None };
        group.by_model = alone.as_ref().or(together.as_ref()).and_then(|fit| fit.rate(&own, rounds));
    }
    agreement(groups)
}

/// Those that have two times.
fn units(runs: &[Run], over_sites: bool) -> Vec<Unit> {
    let mut whole: BTreeMap<(Treatment, usize), Vec<&Run>> = BTreeMap::new();
    let mut units = Vec::with_capacity(runs.len());
    for run in runs {
        if let Some(Piece::Unit(piece)) = run.piece {
            whole.entry((run.treatment, piece)).or_default().push(run);
            continue;
        }
        units.push(Unit {
            treatment: run.treatment,
            site: run.site().filter(|_| over_sites),
            points: run.points.clone(),
            readings: run.readings,
        });
    }
    units.extend(whole.iter().filter_map(|(&(treatment, _), runs)| of_piece(treatment, runs)));
    units.retain(|unit| unit.points.windows(2).any(|two| two[0].1.total_cmp(&two[1].1).is_ne()));
    units
}

/// The mean of the sections of one piece, at the rounds that all of them have.
fn of_piece(treatment: Treatment, runs: &[&Run]) -> Option<Unit> {
    let at = |place: usize| {
        let all: Option<Vec<(f64, f64)>> = runs.iter().map(|run| run.at(place)).collect();
        let (times, levels): (Vec<f64>, Vec<f64>) = all?.into_iter().unzip();
        Some((place, summary::mean(&times)?, summary::mean(&levels)?))
    };
    let points = runs.first()?.points.iter().filter_map(|&(place, ..)| at(place)).collect();
    Some(Unit { treatment, site: None, points, readings: runs.iter().map(|run| run.readings).sum() })
}

/// A treatment, at each site by itself where sites count alike.
struct Cell {
    treatment: Treatment,
    /// Its rounds by their place.
    places: Vec<usize>,
    /// What each of them weighs in the slope of the least-squares line through its means.
    weights: Vec<f64>,
    /// Columns, values, sections and times of its rows: a column is 1 at one of its rounds but the first, which the levels stand for.
    columns: Vec<Vec<f64>>,
    values: Vec<f64>,
    sections: Vec<usize>,
    times: Vec<f64>,
}

impl Cell {
    fn of(own: &[&Unit]) -> Option<Self> {
        let mut at: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for &(place, time, _) in own.iter().flat_map(|unit| &unit.points) {
            at.entry(place).or_default().push(time);
        }
        let mean_times: Option<Vec<f64>> = at.values().map(|times| summary::mean(times)).collect();
        let mean_times = mean_times?;
        let middle = summary::mean(&mean_times)?;
        let square: f64 = mean_times.iter().map(|time| (time - middle).powi(2)).sum();
        let places: Vec<usize> = at.into_keys().collect();
        let rows = || {
            let numbered = own.iter().enumerate();
            numbered.flat_map(|(section, unit)| unit.points.iter().map(move |point| (section, *point)))
        };
        let column = |place: &usize| rows().map(|(_, (at, ..))| f64::from(u8::from(at == *place))).collect();
        Some(Self {
            treatment: own.first()?.treatment,
            weights: mean_times.iter().map(|time| (time - middle) / square).collect(),
            columns: places.iter().skip(1).map(column).collect(),
            places,
            values: rows().map(|(_, (.., level))| level).collect(),
            sections: rows().map(|(section, _)| section).collect(),
            times: rows().map(|(_, (_, time, _))| time).collect(),
        })
    }

    fn rows(&self) -> (Rows<'_>, &[f64]) {
        let rows = Rows { columns: &self.columns, values: &self.values, sections: &self.sections };
        (rows, &self.times)
    }
}

/// One model of all its cells.
struct Fit {
    model: Mixed,
    cells: Vec<Cell>,
}

impl Fit {
    fn of(units: &[&Unit]) -> Option<Self> {
        let mut by_cell: BTreeMap<(Treatment, Option<usize>), Vec<&Unit>> = BTreeMap::new();
        for unit in units {
            by_cell.entry((unit.treatment, unit.site)).or_default().push(unit);
        }
        let cells: Option<Vec<Cell>> = by_cell.values().map(|own| Cell::of(own)).collect();
        let cells = cells?;
        let rows: Vec<(Rows<'_>, &[f64])> = cells.iter().map(Cell::rows).collect();
        Some(Self { model: mixed::slopes(&rows)?, cells })
    }

    /// The rate of the treatment of these units, every site counting alike.
    fn rate(&self, own: &[&Unit], rounds: &[RoundId]) -> Option<ModelRate> {
        let treatment = own.first()?.treatment;
        let is_own = |cell: &&Cell| cell.treatment == treatment;
        let number = self.cells.iter().filter(is_own).count() as f64;
        let of_cell = |cell: &Cell| -> Vec<f64> {
            let share = if cell.treatment == treatment { 1.0 / number } else { 0.0 };
            cell.weights.iter().skip(1).map(|weight| share * weight).collect()
        };
        let effect = self.model.effect(&self.cells.iter().flat_map(of_cell).collect::<Vec<f64>>())?;
        let last = self.cells.iter().filter(is_own).filter_map(|cell| cell.places.last()).max()?;
        Some(ModelRate {
            n: own.len(),
            readings: own.iter().map(|unit| unit.readings).sum(),
            mean: effect.value,
            interval: effect.interval(CONFIDENCE).map(|(low, high)| Interval { low, high }),
            last: *rounds.get(*last)?,
        })
    }
}

/// How far the model lies from the means over sections, where both have the same sections.
fn agreement(groups: &[GroupOverTime]) -> Option<Agreement> {
    let both = || {
        groups
            .iter()
            .filter(|group| group.lacking.is_empty())
            .filter_map(|group| group.rate.as_ref().zip(group.by_model.as_ref()))
    };
    let most = |all: &mut dyn Iterator<Item = f64>| all.reduce(f64::max);
    let ends = both().filter_map(|(rate, model)| {
        let (one, other) = (rate.interval?, model.interval?);
        Some((one.low - other.low).abs().max((one.high - other.high).abs()))
    });
    Some(Agreement {
        rates: most(&mut both().map(|(rate, model)| (rate.mean - model.mean).abs()))?,
        ends: most(&mut { ends }),
    })
}

//! The rates of treatments by one mixed model of all levels, beside the means of the rates of sections.

use super::model::{Agreement, GroupOverTime, Interval, ModelRate, Piece};
use super::on_coat::Run;
use crate::stats::components::mixed::{self, Mixed, Rows, Times};
use crate::stats::summary;
use crate::study::{RoundId, Treatment};
use std::collections::{BTreeMap, BTreeSet};

const CONFIDENCE: f64 = 0.95;

/// What has one random rate: a section, or those of a piece that is the unit.
struct Unit<'r> {
    treatment: Treatment,
    /// Its site, where rates are averages over sites.
    site: Option<usize>,
    runs: Vec<&'r Run>,
}

impl Unit<'_> {
    fn points(&self) -> impl Iterator<Item = (usize, f64, f64)> + '_ {
        self.runs.iter().flat_map(|run| run.points.iter().copied())
    }

    /// Whether a section of it has two times.
    fn tells(&self) -> bool {
        let differ = |run: &&Run| run.points.windows(2).any(|two| two[0].1.total_cmp(&two[1].1).is_ne());
        self.runs.iter().any(differ)
    }
}

/// Adds the rates by the model to those of the groups, and says how far the two lie apart; `rounds` are those that places count.
///
/// A treatment has a mean at each of its rounds, and every section keeps a level of its own about them and a rate that differs at random:
/// restricted maximum likelihood, degrees of freedom after Satterthwaite. A random level alone would take the rounds of a section for
/// independent of what its own rate happens to be, and a straight line would take for scatter how a treatment bends. Sections
/// without the last round take part with what they have, but for those that are too low for the gauge: a treatment of such a section
/// has no rate, since they did not go on as before.
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
        let carried: Vec<&Run> = runs.iter().filter(|run| run.treatment == group.treatment).collect();
        let sites: BTreeSet<Option<usize>> = carried.iter().map(|run| site(run, over_sites)).collect();
        if carried.iter().any(|run| run.below) {
            continue;
        }
        let alone = if differ { Fit::of(&own) } else { None };
        group.by_model =
            alone.as_ref().or(together.as_ref()).and_then(|fit| fit.rate(&own, sites.len(), rounds));
    }
    agreement(groups)
}

fn site(run: &Run, over_sites: bool) -> Option<usize> {
    run.site().filter(|_| over_sites)
}

fn units(runs: &[Run], over_sites: bool) -> Vec<Unit<'_>> {
    let mut whole: BTreeMap<(Treatment, usize), Vec<&Run>> = BTreeMap::new();
    let mut units = Vec::with_capacity(runs.len());
    for run in runs {
        if let Some(Piece::Unit(piece)) = run.piece {
            whole.entry((run.treatment, piece)).or_default().push(run);
        } else {
            units.push(Unit { treatment: run.treatment, site: site(run, over_sites), runs: vec![run] });
        }
    }
    units.extend(whole.into_iter().map(|((treatment, _), runs)| Unit { treatment, site: None, runs }));
    units.retain(Unit::tells);
    units
}

/// A treatment, at each site by itself where sites count alike.
struct Cell {
    treatment: Treatment,
    /// Its rounds by their place.
    places: Vec<usize>,
    /// What each of them weighs in the slope of the least-squares line through its means.
    weights: Vec<f64>,
    /// Columns, values, units, sections and times of its rows: a column is 1 at one of its rounds but the first, which the levels
    /// stand for.
    columns: Vec<Vec<f64>>,
    values: Vec<f64>,
    units: Vec<usize>,
    sections: Vec<usize>,
    times: Vec<f64>,
}

impl Cell {
    fn of(own: &[&Unit<'_>]) -> Option<Self> {
        let mut at: BTreeMap<usize, Vec<f64>> = BTreeMap::new();
        for (place, time, _) in own.iter().flat_map(|unit| unit.points()) {
            at.entry(place).or_default().push(time);
        }
        let mean_times: Option<Vec<f64>> = at.values().map(|times| summary::mean(times)).collect();
        let mean_times = mean_times?;
        let middle = summary::mean(&mean_times)?;
        let square: f64 = mean_times.iter().map(|time| (time - middle).powi(2)).sum();
        let places: Vec<usize> = at.into_keys().collect();
        let mut rows = Vec::new();
        for (unit, one) in own.iter().enumerate() {
            for (section, run) in one.runs.iter().enumerate() {
                rows.extend(run.points.iter().map(|point| (unit, section, *point)));
            }
        }
        let column =
            |place: &usize| rows.iter().map(|(.., (at, ..))| f64::from(u8::from(at == place))).collect();
        Some(Self {
            treatment: own.first()?.treatment,
            weights: mean_times.iter().map(|time| (time - middle) / square).collect(),
            columns: places.iter().skip(1).map(column).collect(),
            places,
            values: rows.iter().map(|(.., (.., level))| *level).collect(),
            units: rows.iter().map(|&(unit, ..)| unit).collect(),
            sections: rows.iter().map(|&(_, section, _)| section).collect(),
            times: rows.iter().map(|(.., (_, time, _))| *time).collect(),
        })
    }

    fn rows(&self) -> (Rows<'_>, Times<'_>) {
        let rows = Rows { columns: &self.columns, values: &self.values, sections: &self.units };
        (rows, Times { times: &self.times, levels: &self.sections })
    }
}

/// One model of all its cells.
struct Fit {
    model: Mixed,
    cells: Vec<Cell>,
}

impl Fit {
    /// Without cells whose sections have no rounds in common that would link them.
    fn of(units: &[&Unit<'_>]) -> Option<Self> {
        let mut by_cell: BTreeMap<(Treatment, Option<usize>), Vec<&Unit<'_>>> = BTreeMap::new();
        for unit in units {
            by_cell.entry((unit.treatment, unit.site)).or_default().push(unit);
        }
        let mut cells: Vec<Cell> = by_cell.values().filter_map(|own| Cell::of(own)).collect();
        cells.retain(|cell| {
            let (rows, times) = cell.rows();
            mixed::stands(&rows, &times)
        });
        let rows: Vec<(Rows<'_>, Times<'_>)> = cells.iter().map(Cell::rows).collect();
        Some(Self { model: mixed::slopes(&rows)?, cells })
    }

    /// The rate of the treatment of these units, every one of its sites counting alike; `None` where one of these tells nothing.
    fn rate(&self, own: &[&Unit<'_>], sites: usize, rounds: &[RoundId]) -> Option<ModelRate> {
        let treatment = own.first()?.treatment;
        let is_own = |cell: &&Cell| cell.treatment == treatment;
        let number = self.cells.iter().filter(is_own).count();
        if number != sites {
            return None;
        }
        let of_cell = |cell: &Cell| -> Vec<f64> {
            let share = if cell.treatment == treatment { 1.0 / number as f64 } else { 0.0 };
            cell.weights.iter().skip(1).map(|weight| share * weight).collect()
        };
        let effect = self.model.effect(&self.cells.iter().flat_map(of_cell).collect::<Vec<f64>>())?;
        let last = self.cells.iter().filter(is_own).filter_map(|cell| cell.places.last()).max()?;
        Some(ModelRate {
            n: own.len(),
            readings: own.iter().flat_map(|unit| &unit.runs).map(|run| run.readings).sum(),
            mean: effect.value,
            interval: effect.interval(CONFIDENCE).map(|(low, high)| Interval { low, high }),
            last: *rounds.get(*last)?,
        })
    }
}

/// How far the model lies from the means over sections, where both have the same sections.
fn agreement(groups: &[GroupOverTime]) -> Option<Agreement> {
    let rated = || groups.iter().filter_map(|group| Some((group, group.rate?)));
    let both = || {
        rated().filter_map(|(group, rate)| {
            let model = group.by_model.filter(|model| group.lacking.is_empty() && model.n == rate.n)?;
            Some((rate, model))
        })
    };
    let ends = both().filter_map(|(rate, model)| {
        let (one, other) = (rate.interval?, model.interval?);
        Some((one.low - other.low).abs().max((one.high - other.high).abs()))
    });
    Some(Agreement {
        rates: both().map(|(rate, model)| (rate.mean - model.mean).abs()).reduce(f64::max)?,
        ends: ends.reduce(f64::max),
        all: both().count() == rated().count(),
    })
}

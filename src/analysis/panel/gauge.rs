//! The gauge: its drift by tile readings, and how it reads in several hands.

use super::super::context::Context;
use super::super::frame::Frame;
use super::super::model::{Drift, GaugeStudy, NoGaugeStudy, People, TileAt, Uncertain};
use crate::readings::{Apart, ApartCell, Cell, Readings};
use crate::stats::anova;
use crate::stats::components::crossed::crossed;
use crate::study::{MeasureId, MeasureKind, RoundId};
use std::collections::BTreeMap;

/// Tile readings of a measure over the rounds; `None` without any.
pub(super) fn drift(context: &Context<'_>, frame: &Frame) -> Option<Drift> {
    let (study, readings) = (context.study, context.readings);
    let measure = study.measure(frame.measure);
    let of_measure = |apart: &&ApartCell| apart.measure() == frame.measure && apart.numbers().n > 0;
    let of_round = |apart: &ApartCell| match apart.at {
        Apart::Tile(round) => Some((round, *apart)),
        Apart::Prep(_) => None,
    };
    let mut tiles: Vec<(RoundId, ApartCell)> =
        readings.apart().iter().filter(of_measure).filter_map(of_round).collect();
    tiles.sort_by_key(|(round, _)| (frame.place(*round), *round));
    let values = |apart: &ApartCell| -> Vec<f64> {
        readings.of_apart(apart).filter_map(|reading| reading.value.number()).collect()
    };
    let all: Vec<Vec<f64>> = tiles.iter().map(|(_, apart)| values(apart)).collect();
    let scatter = anova::pooled_spread(&all).map(|spread| spread.sd).into_iter().chain(frame.gauge);
    let scatter = scatter.reduce(f64::max);
    let mut declared = study.gauges_of(frame.measure).filter_map(|gauge| gauge.tile?.value_for(measure));
    // Which of several gauges read its tile is not known.
    let declared = declared.next().filter(|_| declared.next().is_none());
    let first = tiles.first()?.1.numbers();
    let (first_mean, first_n) = (first.mean()?, f64::from(first.n));
    let at = tiles.iter().enumerate().filter_map(|(place, (round, apart))| {
        let numbers = apart.numbers();
        let mean = numbers.mean()?;
        let standard = scatter.map(|sd| sd * (1.0 / f64::from(numbers.n) + 1.0 / first_n).sqrt());
        Some(TileAt {
            round: *round,
            n: numbers.n as usize,
            mean,
            off: declared.map(|declared| mean - declared),
            since: (place > 0).then_some(Uncertain { value: mean - first_mean, standard }),
        })
    });
    Some(Drift { measure: frame.measure, declared, at: at.collect() })
}

/// The round at which most sections were read by several people; `None` where none was.
pub(super) fn people(context: &Context<'_>, measure: MeasureId) -> Option<People> {
    if !matches!(context.study.measure(measure).kind, MeasureKind::Read) {
        return None;
    }
    let readings = context.readings;
    let mut shared: BTreeMap<(RoundId, Vec<&str>), Vec<&Cell>> = BTreeMap::new();
    for cell in readings.cells().iter().filter(|cell| cell.measure == measure) {
        let names = readings.read_by(cell);
        if names.len() > 1 {
            shared.entry((cell.round, names)).or_default().push(cell);
        }
    }
    let most = shared.values().map(Vec::len).max()?;
    let ((round, names), cells) = shared.into_iter().find(|(_, cells)| cells.len() == most)?;
    Some(People {
        measure,
        round,
        names: names.iter().map(|&name| name.to_owned()).collect(),
        found: study_of(readings, &cells, &names),
    })
}

/// The gauge study of the sections that all people read as often, as often as most of them were.
fn study_of(readings: &Readings, cells: &[&Cell], names: &[&str]) -> Result<GaugeStudy, NoGaugeStudy> {
    let by_person = |cell: &&Cell| -> Vec<Vec<f64>> {
        let of = |name: &str| {
            let own = readings.of(cell).filter(|one| one.by == Some(name) && one.left_out.is_none());
            own.filter_map(|reading| reading.value.number()).collect()
        };
        names.iter().map(|name| of(name)).collect()
    };
    let all: Vec<Vec<Vec<f64>>> = cells.iter().map(by_person).collect();
    let even = |section: &Vec<Vec<f64>>| {
        let first = section.first().map_or(0, Vec::len);
        (first > 0 && section.iter().all(|own| own.len() == first)).then_some(first)
    };
    let mut often: BTreeMap<usize, usize> = BTreeMap::new();
    for each in all.iter().filter_map(even) {
        *often.entry(each).or_default() += 1;
    }
    let usual = often.iter().max_by_key(|&(each, sections)| (*sections, *each));
    let (each, sections) = usual.map_or((0, 0), |(&each, &sections)| (each, sections));
    let used = all.iter().filter(|section| even(section) == Some(each));
    let values: Vec<f64> = used.flatten().flatten().copied().collect();
    let table = crossed(&values, [sections, names.len(), each]).ok_or(NoGaugeStudy::FewSections(sections))?;
    let found = table.components().unwrap_or_else(|| table.pooled_components());
    if found.total() <= 0.0 {
        return Err(NoGaugeStudy::NoScatter);
    }
    Ok(GaugeStudy {
        sections,
        each,
        repeatability: found.repeatability.sqrt(),
        between_people: found.between_people().sqrt(),
        gauge: found.gauge().sqrt(),
        sections_spread: found.sections.max(0.0).sqrt(),
        p_people: table.p_people(),
        p_interaction: table.p_interaction(),
    })
}

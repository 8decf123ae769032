//! How far single readings lie from the mean of their section, at the round that is shown in full.

use super::blocks::{Drawing, Picture};
use super::charts::{SpreadChart, SpreadRow};
use super::comparison::Ranking;
use super::material::Material;
use super::names;
use super::numbers::{self, Style};
use crate::analysis::{MeasureAnalysis, RoundAnalysis};
use crate::readings::Cell;
use crate::speech::{count, list, say};
use crate::study::{MeasureKind, Treatment};

/// With more sections than this the points are too many for one look; the tables of readings have them all.
const MOST: usize = 80;

/// The picture, where some section was read more than once.
pub(super) fn picture(material: &Material<'_>, ranking: &Ranking) -> Option<Picture> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let known = study.measure(measure.measure);
    if !matches!(known.kind, MeasureKind::Read) {
        return None;
    }
    let cells = cells(material, ranking, measure, round);
    if cells.len() > MOST || !cells.iter().any(|cell| cell.kept.n > 1) {
        return None;
    }
    let style = Style::of(material, measure.measure);
    let farthest = cells.iter().map(|cell| farthest(cell)).fold(0.0, f64::max);
    let farthest = numbers::with_unit(&numbers::fixed(farthest, style.decimals + 1), style.unit);
    let at = names::round(study, round.round);
    Some(Picture {
        address: "report.html#picture-spread".to_owned(),
        title: say!(
            "Readings of {measure} at {at}, each less the mean of its section: those that count lie within {farthest}",
            at,
            farthest,
            measure = known.name.value
        ),
        note: note(material, measure, round, &cells),
        drawing: Drawing::Spread(SpreadChart {
            unit: style.unit.to_owned(),
            rows: rows(material, ranking, &cells),
        }),
    })
}

/// The sections with a mean, those of one treatment together and in the order of all pictures.
fn cells<'a>(
    material: &'a Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
) -> Vec<&'a Cell> {
    let mut series: Vec<_> = measure.sections.iter().collect();
    series.sort_by_key(|series| ranking.place(series.treatment));
    let cell = |section| material.readings.cell(section, round.round, measure.measure);
    series
        .into_iter()
        .filter_map(|series| cell(series.section))
        .filter(|cell| cell.kept.mean().is_some())
        .collect()
}

fn farthest(cell: &Cell) -> f64 {
    cell.kept.mean().map_or(0.0, |mean| (cell.kept.max - mean).max(mean - cell.kept.min))
}

fn rows(material: &Material<'_>, ranking: &Ranking, cells: &[&Cell]) -> Vec<SpreadRow> {
    let treatment = |cell: &Cell| material.study.section(cell.section).treatment;
    let mut last = None;
    let mut row = |cell: &&Cell| {
        let own = treatment(cell);
        let first = last.replace(own) != Some(own);
        let readings = |left_out: bool| {
            let of = material.readings.of(cell).filter(move |reading| reading.left_out.is_some() == left_out);
            of.filter_map(|reading| reading.value.number())
        };
        let style = Style::of(material, cell.measure);
        Some(SpreadRow {
            name: names::treatment(material.study, own),
            first,
            mark: (own != Treatment::Bare).then(|| ranking.mark(own)),
            code: names::section(material.study, cell.section).to_owned(),
            mean: cell.kept.mean()?,
            readings: readings(false).collect(),
            left_out: readings(true).map(|value| (value, style.bare(value))).collect(),
        })
    };
    cells.iter().filter_map(&mut row).collect()
}

fn note(
    material: &Material<'_>,
    measure: &MeasureAnalysis,
    round: &RoundAnalysis,
    cells: &[&Cell],
) -> String {
    let study = material.study;
    let style = Style::of(material, measure.measure);
    let out = cells.iter().flat_map(|cell| {
        let left_out = material.readings.of(cell).filter(|reading| reading.left_out.is_some());
        left_out.filter_map(|reading| {
            let value = numbers::with_unit(&style.bare(reading.value.number()?), style.unit);
            Some(say!("{value} on {section}", value, section = names::section(study, cell.section)))
        })
    });
    let out: Vec<String> = out.collect();
    let hollow = if out.is_empty() {
        String::new()
    } else {
        say!(" Hollow: left out, {out}.", out = list(&out, "and"))
    };
    let gauge = study.gauges_of(measure.measure).find_map(|gauge| gauge.agreement.as_ref());
    let gauge = gauge.map_or_else(String::new, |agreement| {
        let limit =
            numbers::with_unit(&numbers::fixed(agreement.value.limit().value, style.decimals), style.unit);
        say!(
            " Two readings of one place differ 95 of 100 times by no more than {limit}, as the gauge states.",
            limit
        )
    });
    let readings: u32 = cells.iter().map(|cell| cell.kept.n).sum();
    let day = names::days_read(material.readings, round.round);
    let day = day.map_or_else(String::new, |day| say!(", read {day}", day));
    say!(
        "Equal readings lie above each other.{hollow}{gauge} {readings} on {sections}{day}.",
        hollow,
        gauge,
        day,
        readings = count(usize::try_from(readings).unwrap_or(usize::MAX), "reading"),
        sections = count(cells.len(), "section")
    )
}

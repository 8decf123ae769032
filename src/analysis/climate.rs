//! What specimens met between rounds, by the climate file: hours wet, hours above a temperature, dose of the sun.
//!
//! Only recorded hours are summed; what is missing is counted beside each sum and never filled.

use super::frame;
use super::model::{ClimateStretch, ClimateSum, SiteClimate, StretchEnd, WetBy};
use crate::readings::{Climate, ClimatePart, ClimateRow, Readings, seconds_between};
use crate::study::{ClimateFile, HoursAbove, RoundId, SiteId, Study};
use jiff::civil::{Date, DateTime, Time};

const HOUR_S: f64 = 3600.0;

/// One for each climate file that has rows, in the order of the study.
pub(super) fn climates(study: &Study, readings: &Readings) -> Vec<SiteClimate> {
    let files = study.climate.iter().zip(&readings.climate).enumerate();
    let with_rows = files.filter(|(_, (_, climate))| !climate.rows.is_empty());
    with_rows.map(|(at, (file, climate))| site(study, readings, at, file, climate)).collect()
}

fn site(study: &Study, readings: &Readings, at: usize, file: &ClimateFile, climate: &Climate) -> SiteClimate {
    let wet_by = if climate.tells(ClimatePart::Wet) {
        Some(WetBy::Column)
    } else if [ClimatePart::Air, ClimatePart::Humidity, ClimatePart::Surface]
        .iter()
        .all(|&part| climate.tells(part))
    {
        Some(WetBy::DewPoint)
    } else {
        None
    };
    let ends = ends(study, readings, file.site);
    let stretch = |(from, to): (End, End)| {
        let hours = seconds_between(midnight(from.day), midnight(to.day)) / HOUR_S;
        let rows = climate.between(midnight(from.day), midnight(to.day));
        let of = |of: &dyn Fn(&ClimateRow) -> Option<f64>| sum(rows, hours, of);
        ClimateStretch {
            from: from.is,
            to: to.is,
            first: from.day,
            last: to.day,
            hours,
            without_row_h: (hours - rows.iter().map(|row| row.span_s).sum::<f64>() / HOUR_S).max(0.0),
            air_mean_deg_c: mean(rows, |row| row.met.air_deg_c),
            air_range_deg_c: range(rows, |row| row.met.air_deg_c),
            humidity_mean_percent: mean(rows, |row| row.met.humidity_percent),
            wet: wet_by.map(|by| of(&|row| wet_h(row, by))),
            above: file.hours.iter().map(|asked| of(&|row| above_h(row, *asked))).collect(),
            sun_mj_per_m2: climate
                .tells(ClimatePart::Sun)
                .then(|| of(&|row| row.sun_j_per_m2.map(|joules| joules / 1e6))),
            sunshine: climate
                .tells(ClimatePart::Sunshine)
                .then(|| of(&|row| row.sunshine_s.map(|s| s / HOUR_S))),
        }
    };
    let stretches = ends.windows(2).map(|pair| stretch((pair[0], pair[1]))).collect();
    let whole = match ends.as_slice() {
        [first, _, .., last] => Some(stretch((*first, *last))),
        _ => None,
    };
    SiteClimate {
        file: at,
        site: file.site,
        step_s: climate.step_s,
        wet_by,
        hours_above: file.hours.clone(),
        stretches,
        whole,
    }
}

/// The end of a stretch: a day, and what happened on it.
#[derive(Debug, Clone, Copy)]
struct End {
    day: Date,
    is: StretchEnd,
}

/// The days that part the time outdoors: put out, or else the application, then each round that was read.
///
/// After the specimens are brought in nothing more is counted.
fn ends(study: &Study, readings: &Readings, site: Option<SiteId>) -> Vec<End> {
    let here =
        || study.exposures.iter().filter(move |one| site.is_none() || one.of.is_none() || one.of == site);
    let out = here().filter_map(|one| one.put_out.as_ref()).map(|day| day.value).min();
    let brought_in = here().filter_map(|one| one.brought_in.as_ref()).map(|day| day.value).max();
    let start = match (out, frame::applied(study)) {
        (Some(day), _) => Some(End { day, is: StretchEnd::PutOut }),
        (None, Some(day)) => Some(End { day, is: StretchEnd::Apply }),
        (None, None) => None,
    };
    let rounds = study.rounds_with_ids().filter_map(|(id, _)| {
        let day = first_day(study, readings, id, site)?;
        Some(End { day, is: StretchEnd::Round(id) })
    });
    let mut ends: Vec<End> = rounds.filter(|end| start.is_none_or(|start| end.day > start.day)).collect();
    ends.sort_by_key(|end| end.day);
    // Rounds that begin on one day end one stretch.
    ends.dedup_by_key(|end| end.day);
    if let Some(last) = brought_in {
        for end in ends.iter_mut().filter(|end| end.day > last) {
            *end = End { day: last, is: StretchEnd::BroughtIn };
        }
        ends.dedup_by_key(|end| end.day);
        ends.retain(|end| start.is_none_or(|start| end.day > start.day));
    }
    start.into_iter().chain(ends).collect()
}

/// The first day on which a round was read at a site.
fn first_day(study: &Study, readings: &Readings, round: RoundId, site: Option<SiteId>) -> Option<Date> {
    let here = |cell: &&crate::readings::Cell| {
        cell.round == round && (site.is_none() || study.section(cell.section).site == site)
    };
    readings.cells().iter().filter(here).filter_map(|cell| cell.dates).map(|(first, _)| first).min()
}

fn midnight(day: Date) -> DateTime {
    day.to_datetime(Time::midnight())
}

/// The sum of what rows tell, and for how many hours nothing was told.
fn sum(rows: &[ClimateRow], hours: f64, of: &dyn Fn(&ClimateRow) -> Option<f64>) -> ClimateSum {
    let (mut value, mut known_s) = (0.0, 0.0);
    for row in rows {
        if let Some(own) = of(row) {
            value += own;
            known_s += row.span_s;
        }
    }
    ClimateSum { value, missing_h: (hours - known_s / HOUR_S).max(0.0) }
}

/// The mean over the time that rows stand for.
fn mean(rows: &[ClimateRow], of: impl Fn(&ClimateRow) -> Option<f64>) -> Option<f64> {
    let known = rows.iter().filter_map(|row| Some((of(row)?, row.span_s)));
    let (sum, time) = known.fold((0.0, 0.0), |(sum, time), (value, span)| (sum + value * span, time + span));
    (time > 0.0).then(|| sum / time)
}

fn range(rows: &[ClimateRow], of: impl Fn(&ClimateRow) -> Option<f64>) -> Option<(f64, f64)> {
    let known = rows.iter().filter_map(of);
    known.fold(None, |range, value| {
        Some(range.map_or((value, value), |(low, high): (f64, f64)| (low.min(value), high.max(value))))
    })
}

fn wet_h(row: &ClimateRow, by: WetBy) -> Option<f64> {
    match by {
        WetBy::Column => row.wet_s.map(|seconds| seconds / HOUR_S),
        WetBy::DewPoint => row.met.condenses().map(|wet| if wet { row.span_s / HOUR_S } else { 0.0 }),
    }
}

fn above_h(row: &ClimateRow, asked: HoursAbove) -> Option<f64> {
    let value = if asked.surface { row.met.surface_deg_c } else { row.met.air_deg_c }?;
    Some(if value > asked.above.deg_c() { row.span_s / HOUR_S } else { 0.0 })
}

//! A reading of a tile that lies far from the others of its round, from what the tile is, or from the days of its round.

use crate::checks::{Check, Context};
use crate::diag::{Finding, Page, Severity};
use crate::readings::{Apart, ApartCell, Readings};
use crate::stats::grubbs;
use crate::stats::summary::median;
use crate::study::{Agreement, Gauge, MeasureId, RoundId, Study};
use crate::units::decimal;

pub(in crate::checks) const CHECK: Check = Check {
    page: Page {
        code: "tile-reading-far-off",
        severity: Severity::Warning,
        what: "A reading of the tile lies farther from the others of its round than the gauge can account for; or the mean of a round \
               lies ten times that far from what the tile is declared to be, or from its other rounds where nothing is declared; or \
               the tile was read on a day on which no section of its round was.",
        why: "The drift of the gauge is told by the tile alone. One slip there is taken for a drift, and moves every level, share and \
              time of that round with it.",
        mend: "Correct the number or the day if it was typed wrong, or take the row out. Where the gauge really read so, have it \
               checked, and read the round again within its window.",
        bad: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
              two readings agree within 0.4 GU\n    tile        91.2 GU\n    certified   2026-02-01 for 12 months\n\
              --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3\n\
              2026-03-03,baseline,tile,gloss-20,GU,91.2,9.12,91.1\n",
        good: "gauge glossy\n    reads       gloss-20\n    spot        10 x 10 mm\n    foot        110 x 45 mm\n    \
               two readings agree within 0.4 GU\n    tile        91.2 GU\n    certified   2026-02-01 for 12 months\n\
               --- date 2026-03-20\n--- readings.csv\ndate,round,section,measure,unit,1,2,3\n\
               2026-03-03,baseline,tile,gloss-20,GU,91.2,91.2,91.1\n",
        source: "Grubbs (1969), Technometrics 11, 1-21; ISO 5725-6:1994 for the limit of two readings; ISO 2813:2014 on the check of a \
                 glossmeter before each series; ten times the limit is common practice, no source",
    },
    run,
};

/// The level of Grubbs' test, two-sided.
const LEVEL: f64 = 0.05;

/// A mean so many limits away is no drift that a gauge takes from one round to the next.
const GROSS: f64 = 10.0;

/// Of three readings the farthest from the median of the others is held against 2.87 standard deviations, as on a section.
const OF_THREE: f64 = 2.870_435 / Agreement::TWO_READINGS;

fn run(context: &Context<'_>, findings: &mut Vec<Finding>) {
    let (study, readings) = (context.study, context.readings);
    let tiles = readings.apart().iter().filter_map(|apart| match apart.at {
        Apart::Tile(round) => Some((round, apart)),
        Apart::Prep(_) => None,
    });
    for (round, apart) in tiles {
        let found = slip(study, readings, (round, apart)).or_else(|| gross(study, readings, (round, apart)));
        findings.extend(found);
        findings.extend(elsewhen(study, readings, (round, apart)));
    }
}

fn values(readings: &Readings, apart: &ApartCell) -> Vec<f64> {
    let mut values: Vec<f64> =
        readings.of_apart(apart).filter_map(|reading| reading.value.number()).collect();
    values.sort_unstable_by(f64::total_cmp);
    values
}

/// One reading against the others of its round.
fn slip(study: &Study, readings: &Readings, (round, apart): (RoundId, &ApartCell)) -> Option<Finding> {
    let limit = study.gauge_limit(apart.measure())?;
    let values = values(readings, apart);
    let others = |at: usize| -> Vec<f64> {
        values.iter().enumerate().filter(|&(other, _)| other != at).map(|(_, &value)| value).collect()
    };
    let far = |at: usize| Some((at, (values.get(at)? - median(&others(at))?).abs()));
    let ends = [far(0)?, far(values.len().checked_sub(1)?)?];
    let (at, distance) = if ends[1].1 > ends[0].1 { ends[1] } else { ends[0] };
    let least = if values.len() == 3 { limit * OF_THREE } else { limit };
    let unusual = values.len() < 4
        || grubbs::grubbs(&values)
            .zip(grubbs::critical_value(values.len(), LEVEL))
            .is_some_and(|(found, critical)| found.statistic > critical);
    if !unusual || distance - least <= 1e-9 * distance {
        return None;
    }
    let value = values[at];
    let reading = readings.of_apart(apart).find(|reading| reading.value.number() == Some(value))?;
    let (name, unit) = named(study, apart.measure());
    let round = &study.round(round).name.value;
    let message = format!(
        "reading {} of `{name}` on the tile at `{round}`, {} {unit}, lies {} {unit} from the others; two readings of the gauge agree \
         within {} {unit}",
        reading.number,
        decimal(value),
        decimal((distance * 100.0).round() / 100.0),
        decimal(limit)
    );
    let finding = Finding::warning(CHECK.page.code, reading.place, message);
    let middle = median(&others(at))?;
    Some(with_point(finding, (value, middle, limit), unit).about(name).about(round))
}

/// The mean of a round against what the tile is, or against its other rounds.
fn gross(study: &Study, readings: &Readings, (round, apart): (RoundId, &ApartCell)) -> Option<Finding> {
    let id = apart.measure();
    let limit = study.gauge_limit(id)?;
    let mean = apart.numbers().mean()?;
    let value = |gauge: &Gauge| gauge.tile.and_then(|tile| tile.value_for(study.measure(id)));
    let mut declared = study.gauges_of(id).filter_map(value);
    let declared = declared.next().filter(|_| declared.next().is_none());
    let rounds = readings
        .apart()
        .iter()
        .filter(|other| matches!(other.at, Apart::Tile(own) if own != round) && other.measure() == id);
    let others: Vec<f64> = rounds.filter_map(|other| other.numbers().mean()).collect();
    // Of two rounds that differ nothing tells which is wrong.
    let expected = declared.or_else(|| (others.len() > 1).then(|| median(&others)).flatten())?;
    if (mean - expected).abs() <= GROSS * limit {
        return None;
    }
    let first = readings.of_apart(apart).next()?;
    let (name, unit) = named(study, id);
    let round = &study.round(round).name.value;
    let mean_text = decimal((mean * 100.0).round() / 100.0);
    let what = if declared.is_some() { "is declared as" } else { "read at its other rounds" };
    let message = format!(
        "`{name}` on the tile at `{round}` is {mean_text} {unit} on average, and the tile {what} {} {unit}",
        decimal((expected * 100.0).round() / 100.0)
    );
    let finding = Finding::warning(CHECK.page.code, first.place, message)
        .help("look whether another tile was read, or the number or its unit was typed wrong");
    Some(with_point(finding, (mean, expected, limit), unit).about(name).about(round))
}

/// A day on which no section of the round was read.
fn elsewhen(study: &Study, readings: &Readings, (round, apart): (RoundId, &ApartCell)) -> Option<Finding> {
    let id = apart.measure();
    let cells = readings.cells().iter().filter(|cell| cell.round == round && cell.measure == id);
    let days = cells.filter_map(|cell| cell.dates).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    let tile = apart.dates()?;
    if tile.0 <= days.1 && days.0 <= tile.1 {
        return None;
    }
    let first = readings.of_apart(apart).next()?;
    let (name, _) = named(study, id);
    let round = &study.round(round).name.value;
    let message = format!(
        "the tile was read by `{name}` on {} for `{round}`, and its sections from {} to {}",
        tile.0, days.0, days.1
    );
    let finding = Finding::warning(CHECK.page.code, first.place, message)
        .help("correct the day or the round if it was typed wrong; a tile tells the drift of the day on which it was read");
    Some(finding.about(name).about(round))
}

fn named(study: &Study, id: MeasureId) -> (&str, &str) {
    let measure = study.measure(id);
    (&measure.name.value, &measure.unit.symbol)
}

fn with_point(finding: Finding, (value, middle, limit): (f64, f64, f64), unit: &str) -> Finding {
    let moved = [value / 10.0, value * 10.0, value / 100.0, value * 100.0];
    match moved.into_iter().find(|moved| (moved - middle).abs() <= GROSS * limit) {
        Some(meant) => finding.help(format!(
            "is a point lost? {} {unit} would lie where it should; if so, correct it in the file",
            decimal((meant * 1000.0).round() / 1000.0)
        )),
        None => finding,
    }
}

//! Beside the comparison: the differences at the same baseline, and a test by exchange. Neither decides.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::ranking::Ranking;
use crate::analysis::{AdjustedRow, AdjustedTable, ExchangeLine, NoExchange, NotAdjusted};
use crate::diag::count;
use crate::study::Study;

/// The differences to bare at the same baseline, where the study asks for them.
pub(in crate::report) fn adjusted(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let (name, at) = (names::measure(study, measure.measure), names::round(study, round.round));
    let table = match material.analysis.adjusted.as_ref()? {
        Ok(table) => table,
        Err(why) => {
            let mut part = Part::below(format!("Not adjusted for the baseline at {at}"));
            part.say(not_adjusted(*why));
            return Some(part);
        }
    };
    let style = Style::of(study, study.measure(measure.measure));
    let mut part = Part::below(format!("Differences to bare at {at} as if all sections had begun alike"));
    part.say(format!(
        "Adjusted for the baseline, as the study asks: within treatments, a section that began 1 {unit} higher changed by \
         {slope} {unit} more{interval}, over {sections}. All means are taken to a baseline of {base}, the mean of these \
         sections; the {bare} began at {bare_base}. Intervals hold together at 95 %, on {df}. The \
         answer of this report stays with the differences without it; where the two disagree, the start matters.",
        unit = style.unit,
        slope = numbers::signed(table.slope, 2),
        interval = table.slope_interval.map_or_else(String::new, |i| {
            format!(" (from {} to {})", numbers::signed(i.low, 2), numbers::signed(i.high, 2))
        }),
        sections = count(table.sections, "section"),
        base = style.value(table.at).text,
        bare = count(table.bare, "bare section"),
        bare_base = style.value(table.bare_baseline).text,
        df = numbers::degrees(table.spread.df),
    ));
    part.say(format!("Difference of the change of {name} to bare, in {}:", style.unit));
    part.table(rows(study, ranking, table, style));
    part.rests_on(measure, [round.round]);
    Some(part)
}

fn rows(study: &Study, ranking: &Ranking, table: &AdjustedTable, style: Style<'_>) -> Table {
    let mut rows: Vec<&AdjustedRow> = table.rows.iter().collect();
    rows.sort_by_key(|row| ranking.place(row.treatment));
    let mut out = Table::new(&[
        "Product",
        ">Sections",
        ">Began at",
        ">As it was",
        ">Adjusted",
        ">95 % interval",
        "Word, adjusted",
        ">p, adjusted",
    ]);
    for row in rows {
        out.row(vec![
            Figure::from(names::treatment(study, row.treatment)),
            Figure::from(row.n.to_string()),
            style.cell(row.baseline),
            Figure { raw: Some(row.plain), text: style.signed(row.plain) },
            Figure { raw: Some(row.difference), text: style.signed(row.difference) },
            Figure::from(style.span(row.interval.low, row.interval.high)),
            Figure::from(names::word(row.word)),
            Figure { raw: Some(row.p), text: numbers::probability(row.p) },
        ]);
    }
    out
}

fn not_adjusted(why: NotAdjusted) -> String {
    let why = match why {
        NotAdjusted::NoBaseline => "no round named baseline, before this one, reads the measure".to_owned(),
        NotAdjusted::NoTable => "there are no bare sections, or nothing besides them, to compare".to_owned(),
        NotAdjusted::FewDegrees(left) => {
            format!("the adjustment would leave {}, and needs 3", numbers::degrees(left))
        }
        NotAdjusted::TooFarApart => {
            "treatments began so much farther apart than sections treated alike that the adjustment would be an \
             extrapolation"
                .to_owned()
        }
        NotAdjusted::Pieces => "sections of one piece are not independent of each other, which this adjustment needs".to_owned(),
        NotAdjusted::NoScatter => {
            "sections treated alike began alike, or do not scatter, so that no slope can be judged".to_owned()
        }
    };
    format!("The study asks for it, but {why}. The differences stand as they are.")
}

/// The test by exchange at the round that is shown.
pub(in crate::report) fn exchange(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let at = names::round(study, round.round);
    match material.analysis.exchange.as_ref()? {
        Ok(line) => {
            let p = numbers::probability(line.found.p);
            let mut part =
                Part::below(format!("By exchange of treatments, without a bell curve: p {}", is(&p)));
            part.say(words(line, &names::compared(study, measure.measure, at, measure.compared)));
            Some(part)
        }
        Err(NoExchange::TooCoarse(least)) => {
            let mut part = Part::below("No test by exchange of treatments");
            part.say(format!(
                "So few ways lead to deal these treatments out among these sections that the smallest p would be {}; such \
                 a test says nothing at 5 %, and is not offered.",
                numbers::probability(*least)
            ));
            Some(part)
        }
        Err(NoExchange::TooTight) => {
            let mut part = Part::below("No test by exchange of treatments");
            part.say(
                "Too few other ways to deal the treatments out keep like sections apart as the map does.",
            );
            Some(part)
        }
        // The reason is said beside the differences.
        Err(NoExchange::Strength(_) | NoExchange::Pieces) => None,
    }
}

fn is(p: &str) -> String {
    if p.starts_with("below") { p.to_owned() } else { format!("= {p}") }
}

fn words(line: &ExchangeLine, compared: &str) -> String {
    let found = &line.found;
    let ways = if found.all {
        format!("Of all {} ways", found.arrangements)
    } else {
        format!(
            "Of {} ways, drawn by chance (seed {}),",
            numbers::grouped(thousands(found.arrangements)),
            line.seed
        )
    };
    let near = match line.side_by_side {
        None => String::new(),
        Some(0) => " with no like sections side by side, as on the map,".to_owned(),
        Some(1) => " with one pair of like sections side by side at most, as on the map,".to_owned(),
        Some(n) => format!(" with {n} pairs of like sections side by side at most, as on the map,"),
    };
    let least = if found.all {
        format!("The smallest p that this design could show is {}.", numbers::probability(found.least))
    } else {
        format!("So many draws can show no p below {}.", crate::units::decimal(found.least))
    };
    format!(
        "If no treatment mattered, each section could as well have carried another one. {ways} to deal the treatments out \
         among these {},{near} a share of {} puts them as far apart as they are in {compared} ({}). \
         {least} It asks whether anything differs at all, bare included, and not \
         what; it decides nothing here.",
        count(line.sections, "section"),
        numbers::probability(found.p),
        count(line.readings as usize, "reading"),
    )
}

fn thousands(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

//! Beside the comparison: the differences at the same baseline, and a test by exchange. Neither decides.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::ranking::Ranking;
use crate::analysis::{AdjustedRow, AdjustedTable, ExchangeLine, NoExchange, NotAdjusted};
use crate::speech::{count, say};
use crate::study::Study;

/// The differences to bare at the same baseline, where the study asks for them.
pub(in crate::report) fn adjusted(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let (name, at) = (names::measure(study, measure.measure), names::round(study, round.round));
    let table = match material.analysis.adjusted.as_ref()? {
        Ok(table) => table,
        Err(why) => {
            let mut part = Part::below(say!("Not adjusted for the baseline at {at}", at));
            part.say(not_adjusted(*why));
            return Some(part);
        }
    };
    let style = Style::of(material, measure.measure);
    let mut part = Part::below(say!("Differences to bare at {at} as if all sections had begun alike", at));
    part.say(say!("Adjusted for the baseline, as the study asks: within treatments, a section that began 1 {unit} higher changed by \
         {slope} {unit} more{interval}, over {sections}. All means are taken to a baseline of {base}, the mean of these \
         sections; the {bare} began at {bare_base}. Intervals hold together at 95 %, on {df}. Adjusting takes \
         from each difference what this slope makes of unlike starts, whether a start truly matters or chance in the baseline itself draws the \
         line; the answer of this report stays with the differences without it.", unit = style.unit, slope = numbers::signed(table.slope, 2), interval = table.slope_interval.map_or_else(String::new, |i| {
            say!(" (from {low} to {high})", low = numbers::signed(i.low, 2), high = numbers::signed(i.high, 2))
        }), sections = count(table.sections, "section"), base = style.value(table.at).text, bare = count(table.bare, "bare section"), bare_base = style.value(table.bare_baseline).text, df = numbers::degrees(table.spread.df)));
    if study.spreads_differ {
        part.say(say!(
            "The study says that spreads differ; this adjustment needs one scatter for all, and pools them."
        ));
    }
    part.say(say!("Difference of the change of {name} to bare, in {unit}:", name, unit = style.unit));
    part.table(rows(study, ranking, table, style));
    part.rests_on(measure, [round.round]);
    part.rests_on_levels(measure.measure, material.analysis.panel.baseline);
    Some(part)
}

fn rows(study: &Study, ranking: &Ranking, table: &AdjustedTable, style: Style<'_>) -> Table {
    let mut rows: Vec<&AdjustedRow> = table.rows.iter().collect();
    rows.sort_by_key(|row| ranking.place(row.treatment));
    let mut out = Table::new(&[
        say!("Product"),
        say!(">Sections"),
        say!(">Began at"),
        say!(">As it was"),
        say!(">Adjusted"),
        say!(">95 % interval"),
        say!("Word, adjusted"),
        say!(">p, adjusted"),
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
    out.behind(1)
}

fn not_adjusted(why: NotAdjusted) -> String {
    let why = match why {
        NotAdjusted::NoBaseline => say!("no round named baseline, before this one, reads the measure").to_owned(),
        NotAdjusted::NoTable => say!("there are no bare sections, or nothing besides them, to compare").to_owned(),
        NotAdjusted::FewDegrees(left) => {
            say!("the adjustment would leave {degrees}, and needs 3", degrees = numbers::degrees(left))
        }
        NotAdjusted::TooFarApart => {
            say!("treatments began so much farther apart than sections treated alike that the adjustment would be an \
             extrapolation")
                .to_owned()
        }
        NotAdjusted::Pieces => say!("sections that stand together are not independent of each other, which this adjustment needs").to_owned(),
        NotAdjusted::NoScatter => {
            say!("sections treated alike began alike, or do not scatter, so that no slope can be judged").to_owned()
        }
    };
    say!("The study asks for it, but {why}. The differences stand as they are.", why)
}

/// The test by exchange at the round that is shown.
pub(in crate::report) fn exchange(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let at = names::round(study, round.round);
    match material.analysis.exchange.as_ref()? {
        Ok(line) => {
            let mut part = Part::below(say!(
                "By exchange of treatments, without a bell curve: p {p}",
                p = is(line.found.p)
            ));
            part.say(words(line, &names::compared(study, measure.measure, &at, measure.compared)));
            Some(part)
        }
        Err(NoExchange::TooCoarse(least)) => {
            let mut part = Part::below(say!("No test by exchange of treatments"));
            part.say(say!("So few ways lead to deal these treatments out among these sections that the smallest p would be {least}; such \
                 a test says nothing at 5 %, and is not offered.", least = numbers::probability(*least)));
            Some(part)
        }
        // The reason is said beside the differences.
        Err(NoExchange::Strength(_) | NoExchange::Pieces) => None,
    }
}

fn is(p: f64) -> String {
    let text = numbers::probability(p);
    if p < 0.001 { text } else { format!("= {text}") }
}

fn words(line: &ExchangeLine, compared: &str) -> String {
    let found = &line.found;
    let ways = if found.walked {
        say!(
            "Of {arrangements} ways, reached from the real one by single exchanges (seed {seed}; Besag and Clifford 1989),",
            arrangements = numbers::grouped(thousands(found.arrangements)),
            seed = line.seed
        )
    } else if found.all {
        say!(
            "Of all {arrangements} ways that can differ in outcome (treatments on like numbers of sections stand for each other)",
            arrangements = numbers::grouped(thousands(found.distinct))
        )
    } else {
        say!(
            "Of {arrangements} ways, drawn by chance (seed {seed}),",
            arrangements = numbers::grouped(thousands(found.arrangements)),
            seed = line.seed
        )
    };
    let near = match line.side_by_side {
        None => String::new(),
        Some(0) => say!(" with no like ones side by side, as these lie on the map,").to_owned(),
        Some(1) => say!(" with one pair of like sections side by side at most, as on the map,").to_owned(),
        Some(n) => say!(" with {n} pairs of like sections side by side at most, as on the map,", n),
    };
    let asks = if line.singles {
        say!(
            " With one section a product it can only ask whether the sections that carry the same, as the bare ones, are unusually alike."
        )
    } else {
        ""
    };
    let least = if found.all {
        say!(
            "The smallest p that this design could show is {least}.",
            least = numbers::probability(found.least)
        )
    } else {
        say!("So many draws can show no p below {least}.", least = numbers::decimal(found.least))
    };
    let stopped = match line.stopped {
        0 => String::new(),
        n => say!(
            " Of these sections {n} had been stopped before and take part with the value of the stop: how far each came is its own, whatever it \
             carries, as long as no treatment matters. So p tells whether anything differed up to this round, and not at it alone.",
            n
        ),
    };
    say!(
        "If no treatment mattered, each section could as well have carried another one. {ways} to deal the treatments out \
         among these {sections},{near} the share that puts them as far apart as they lie in {compared} ({readings}), or farther, is {p}. \
         {least} It asks only whether anything differs, bare sections among them, and not what; it decides nothing here.{asks}{stopped}",
        asks,
        stopped,
        ways,
        near,
        compared,
        least,
        sections = count(line.sections, "section"),
        p = numbers::probability(found.p),
        readings = count(line.readings as usize, "reading")
    )
}

fn thousands(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

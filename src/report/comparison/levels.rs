//! Levels of a measure that no reference was read for, as one that destroys its place: compared as changes are elsewhere.

use super::super::blocks::{Part, Table};
use super::super::footing::bounds;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::raw;
use super::super::stopped;
use super::super::told::{self, Control};
use super::looks;
use super::ranking::Ranking;
use crate::analysis::{ControlTable, MeasureAnalysis, NoTable, PairRow, PairTable, RoundAnalysis, Strength};
use crate::speech::{plural, say};
use crate::study::{MeasureId, Study, Treatment};

/// The last round read: its levels, and what they say against bare and against each other where that stands nowhere else.
pub(super) fn part(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    place: usize,
) -> Part {
    let (study, round) = (material.study, &measure.rounds[place]);
    let (name, at) = (names::measure(study, measure.measure), names::round(study, round.round));
    let known = study.measure(measure.measure);
    let style = Style::of(material, measure.measure);
    let mut part = Part::new(say!("{name} at {at}: levels, and no change", at, name = names::capital(name)));
    part.say(say!("{name} was read at no round from which a change could count, so levels stand here, in {unit}; {direction}. What lay under the \
         products is in them, and in every difference between them. {interval}", name = names::capital(name), unit = style.unit, direction = names::direction(known.direction), interval = interval_words((study, measure), round, style)));
    for text in [raw::beside_means(study, measure, round), raw::beside_intervals(study, measure, round)]
        .into_iter()
        .flatten()
    {
        part.say(text);
    }
    if let Some(sites) = names::sites_alone(study, measure.measure, round.alone_over_sites.0) {
        part.say(sites);
    }
    part.table(levels(material, ranking, measure, place, style));
    if let Some(bounds) = bounds(study, measure, round.round) {
        part.say(bounds);
    }
    part.rests_on(measure, [round.round]);
    let shown = material.analysis.shown();
    if shown.is_some_and(|(of, at)| (of.measure, at.round) == (measure.measure, round.round)) {
        return part;
    }
    match &round.to_bare {
        Ok(table) => {
            part.say(against_bare(material, (measure, &at), table));
            part.table(looks::table(material, ranking, measure.measure, &[(round, table)]));
            part.list(told::of_stopped(material.study, Control::Bare, std::iter::once(table)));
        }
        Err(NoTable::UpToReference) => {
            part.say(say!("It lies before the coat, so that nothing is compared."));
        }
        Err(reason) => part.say(names::no_table(*reason)),
    }
    if let Some(table) = round.pairs.as_ref().filter(|table| table.basis.strength != Strength::SectionsOnly) {
        part.say(say!("Every product against every other, first product less second. Intervals are simultaneous over all pairs, 95 % \
             ({by}); their p values are among those further looks.", by = if table.basis.own_spreads { "Games-Howell" } else { "Tukey-Kramer" }));
        part.table(pairs(material, ranking, measure.measure, table));
    }
    part
}

fn interval_words(
    (study, measure): (&Study, &MeasureAnalysis),
    round: &RoundAnalysis,
    style: Style<'_>,
) -> String {
    if names::is_share_of_blank(study, measure.measure) {
        return say!(
            "Each interval of this table is a 95 % interval for that row by itself, of the ratio of its mean to that of the blank, \
             both as uncertain as their sections scatter (Fieller 1954); the blank stands at its own mean by definition and has none."
        )
        .to_owned();
    }
    if study.spreads_differ {
        return names::own_interval(names::unit(study, measure.measure));
    }
    say!(
        "Each interval of this table is a 95 % t interval for that row by itself, on the spread between all sections treated \
         alike{spread}.",
        spread = spread(round, style)
    )
}

fn spread(round: &RoundAnalysis, style: Style<'_>) -> String {
    round.level_spread.map_or_else(String::new, |spread| {
        format!(
            ": {}, {}",
            numbers::with_unit(&numbers::fixed(spread.sd, style.decimals + 1), style.unit),
            numbers::degrees(spread.df)
        )
    })
}

fn levels(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: &MeasureAnalysis,
    place: usize,
    style: Style<'_>,
) -> Table {
    let study = material.study;
    let mut table = Table::new(&[
        say!("Product"),
        &names::units_head(study, measure.measure),
        say!(">Readings"),
        &say!(">Mean, {unit}", unit = style.unit),
        say!(">95 % interval"),
        &say!(">Lowest to highest {unit}", unit = plural(1, names::unit(study, measure.measure))),
    ]);
    let span = |low: f64, high: f64| {
        Figure::from(say!("{low} to {high}", low = style.bare(low), high = style.bare(high)))
    };
    for group in ranking.groups(measure) {
        let Some(level) = group.at.get(place).and_then(|at| at.level) else { continue };
        table.row(vec![
            Figure::from(names::treatment(study, group.treatment)),
            Figure::from(level.n.to_string()),
            Figure::from(level.readings.to_string()),
            stopped::bound(style.cell(level.mean), study.measure(measure.measure).direction, &level),
            level.interval.map_or_else(Figure::none, |interval| span(interval.low, interval.high)),
            if level.n > 1 { span(level.min, level.max) } else { Figure::none() },
        ]);
    }
    table.behind(1).behind(1)
}

fn against_bare(
    material: &Material<'_>,
    (measure, at): (&MeasureAnalysis, &str),
    table: &ControlTable,
) -> String {
    let (study, style) = (material.study, Style::of(material, measure.measure));
    let control = names::units(study, measure.measure, table.control.n);
    let head = say!(
        "Difference of {compared} to that of bare ({control}, {mean}). ",
        control,
        compared = names::compared(study, measure.measure, at, measure.compared),
        mean = stopped::bound(
            style.value(table.control.mean),
            study.measure(measure.measure).direction,
            &table.control
        )
        .text
    );
    if table.basis.strength != Strength::Full {
        let unit = names::unit(study, measure.measure);
        return format!("{head}{}.", names::capital(&names::strength(table.basis.strength, unit)));
    }
    say!(
        "{head}Intervals hold together at 95 % ({by}); the word stands for the interval. It is a further look: p values are \
         adjusted after Holm with all {looks} further looks of this report, and an asterisk marks those below 0.05.",
        head,
        by = match (table.basis.own_spreads, table.basis.linked()) {
            (true, _) => "Games-Howell",
            (false, true) => "Tukey-Kramer",
            (false, false) => names::together(table.of_ratios),
        },
        looks = material.analysis.further_looks
    )
}

fn pairs(material: &Material<'_>, ranking: &Ranking, id: MeasureId, table: &PairTable) -> Table {
    let (study, style) = (material.study, Style::of(material, id));
    let place = |row: &PairRow| {
        (ranking.place(Treatment::Product(row.one)), ranking.place(Treatment::Product(row.other)))
    };
    let in_order = |&row: &PairRow| if place(&row).0 <= place(&row).1 { row } else { row.turned() };
    let mut rows: Vec<PairRow> = table.rows.iter().map(in_order).collect();
    rows.sort_by_key(place);
    let unit = say!(">Difference, {unit}", unit = style.difference_unit());
    let mut out = Table::new(&[
        say!("Product"),
        say!("against"),
        &unit,
        say!(">95 % interval"),
        say!("Word"),
        say!(">p (Holm)"),
    ]);
    for row in rows {
        out.row(vec![
            Figure::from(names::product(study, row.one)),
            Figure::from(names::product(study, row.other)),
            stopped::difference(style, row.difference, row.farther),
            looks::interval(row.interval, style),
            Figure::from(row.word.map_or(numbers::DASH, names::word)),
            looks::p(row.p_holm, row.farther, row.word),
        ]);
    }
    out
}

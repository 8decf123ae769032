//! Products against each other, every pair.

use super::super::blocks::{Part, Table};
use super::super::footing;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::stopped;
use super::ranking::Ranking;
use crate::analysis::{
    Farther, Interval, MeasureAnalysis, PairRow, PairTable, RoundAnalysis, ScatterOf, Word,
};
use crate::speech::{count, plural, say};
use crate::study::{MeasureId, Study, Treatment};

/// Up to so many pairs all stand in the part itself; beyond, those that are told apart do.
const FEW: usize = 15;

/// Products against each other at the round that is shown.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let table = material.analysis.between.as_ref()?.as_ref().ok()?;
    let style = Style::at(material, measure.measure, round);
    let at = names::round(study, round.round);
    let rows = ordered(table, ranking);
    let mut part = Part::new(heading(table, &at));
    let own = footing::own_spread(style, &table.basis, round);
    part.say(say!(
        "Every product against every other in {compared}{read}. {basis}",
        compared = names::compared(study, measure.measure, &at, measure.compared),
        read = read(study, measure, round),
        basis = rests_on((study, measure.measure), table, own.as_deref())
    ));
    part.rests_on(measure, [round.round]);
    let told: Vec<&PairRow> = rows.iter().filter(|row| is_told(row)).collect();
    if rows.len() <= FEW {
        part.table(out(study, &rows.iter().collect::<Vec<_>>(), style));
        part.list(alike_and_measurable(&rows));
        part.list(two_questions(study, round, &rows));
    } else {
        part.say(if told.is_empty() {
            say!("No pair is told apart; they stand in the appendix.").to_owned()
        } else {
            say!("The pairs that are told apart; the others stand in the appendix.").to_owned()
        });
        // Those of the product to beat have a table of their own, with the same numbers.
        let own = study.benchmark.filter(|_| matches!(material.analysis.to_benchmark, Some(Ok(_))));
        let of_own = |row: &&&PairRow| own.is_some_and(|id| row.one == id || row.other == id);
        if let Some(id) = own.filter(|_| told.iter().any(|row| of_own(&row))) {
            let product = names::product(study, id);
            part.say(say!("Pairs with {product}, the one to beat, stand in the next table.", product));
        }
        let others: Vec<&PairRow> = told.iter().filter(|row| !of_own(row)).copied().collect();
        part.table(out(study, &others, style));
        part.list(two_questions(study, round, &rows));
    }
    Some(part)
}

/// The pairs that are not told apart, for the appendix, where the part itself shows the others only.
pub(in crate::report) fn appendix(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let table = material.analysis.between.as_ref()?.as_ref().ok()?;
    if table.rows.len() <= FEW {
        return None;
    }
    let mut rows = ordered(table, ranking);
    rows.retain(|row| !is_told(row));
    if rows.is_empty() {
        return None;
    }
    let style = Style::at(material, measure.measure, round);
    let alike = rows.iter().filter(|row| row.word == Ok(Word::Alike)).count();
    let unjudged = rows.first().filter(|_| rows.iter().all(|row| row.word.is_err()));
    let unjudged = unjudged.and_then(|row| row.word.err());
    let mut part = Part::new(match (alike, rows.len() - alike) {
        (_, open) if unjudged.is_some() => {
            say!("{pairs} of products that cannot be judged", pairs = count(open, "pair"))
        }
        (0, open) => say!("{pairs} of products not settled", pairs = count(open, "pair")),
        (alike, 0) => say!("{pairs} of products alike", pairs = count(alike, "pair")),
        (alike, open) => {
            say!("{pairs} of products alike, {open} not settled", open, pairs = count(alike, "pair"))
        }
    });
    let compared =
        names::compared(study, measure.measure, &names::round(study, round.round), measure.compared);
    part.say(say!("Difference in {compared}, first product less second.", compared));
    if let Some(why) = unjudged {
        let unit = names::unit(study, measure.measure);
        part.say(say!("No word is given: {strength}.", strength = names::strength(why, unit)));
    }
    part.table(out(study, &rows.iter().collect::<Vec<_>>(), style));
    part.rests_on(measure, [round.round]);
    part.list(alike_and_measurable(&rows));
    Some(part)
}

// An interval within the alike limit may leave out zero, which is no contradiction and looks like one.
fn alike_and_measurable(rows: &[PairRow]) -> Vec<String> {
    match rows.iter().filter(|row| is_alike_and_measurable(row)).count() {
        0 => Vec::new(),
        1 => vec![
            say!(
                "One pair is alike by an interval that leaves out zero: the difference can be measured, and is within what does \
                 not matter."
            )
            .to_owned(),
        ],
        n => vec![say!(
            "{n} pairs are alike by an interval that leaves out zero: the difference can be measured, and is within what does \
             not matter.",
            n
        )],
    }
}

fn is_alike_and_measurable(row: &PairRow) -> bool {
    row.word == Ok(Word::Alike) && row.interval.is_some_and(Interval::leaves_out_zero)
}

/// Products that may not lead though no pair tells them apart from one that may: two questions, which look like one.
fn two_questions(study: &Study, round: &RoundAnalysis, rows: &[PairRow]) -> Vec<String> {
    let Ok(table) = &round.lead else { return Vec::new() };
    // Where spreads differ or pieces link the products, this very table says who may lead.
    let Some(leaders) = table.may_lead.as_ref().ok().filter(|_| !table.basis.by_pairs()) else {
        return Vec::new();
    };
    let leads = |id| leaders.contains(&id);
    let whole = |row: &&PairRow| !table.bound.contains(&row.one) && !table.bound.contains(&row.other);
    let open = rows
        .iter()
        .filter(whole)
        .filter(|row| row.word.is_ok() && !is_told(row) && !is_alike_and_measurable(row))
        .filter(|row| leads(row.one) != leads(row.other));
    let open: Vec<String> = open
        .map(|row| {
            say!(
                "{one} and {other}",
                one = names::product(study, row.one),
                other = names::product(study, row.other)
            )
        })
        .collect();
    if open.is_empty() {
        return Vec::new();
    }
    vec![say!(
        "Only one of the two may lead, and yet this table does not tell them apart: {pairs}. These are two questions: who \
         may lead asks of each product only whether it falls short of the best other one, for which a smaller \
         difference is enough than for telling which two of all pairs differ, either way.",
        pairs = open.join("; ")
    )]
}

fn is_told(row: &PairRow) -> bool {
    matches!(row.word, Ok(Word::Seen | Word::Measurable))
}

/// The product that ranks first stands first, and pairs stand in the order of the ranking.
fn ordered(table: &PairTable, ranking: &Ranking) -> Vec<PairRow> {
    let place = |id| ranking.place(Treatment::Product(id));
    let mut rows: Vec<PairRow> = table
        .rows
        .iter()
        .map(|&row| if place(row.one) <= place(row.other) { row } else { row.turned() })
        .collect();
    rows.sort_by_key(|row| (place(row.one), place(row.other)));
    rows
}

fn heading(table: &PairTable, at: &str) -> String {
    let told = table.rows.iter().filter(|row| is_told(row)).count();
    let alike = table.rows.iter().filter(|row| is_alike_and_measurable(row)).count();
    match (table.rows.iter().all(|row| row.word.is_err()), told, table.rows.len()) {
        (true, ..) => say!("Products against each other at {at}, without a judgement", at),
        (_, 0, 1) if alike > 0 => {
            say!("The two products differ measurably at {at}, within the alike limit", at)
        }
        (_, 0, all) if alike > 0 => {
            say!(
                "{told} of {pairs} of products differ measurably at {at}, within the alike limit",
                told = alike,
                at,
                pairs = count(all, "pair")
            )
        }
        (_, 0, _) => say!("No two products are told apart at {at}", at),
        (_, 1, 1) => say!("The two products are told apart at {at}", at),
        (_, told, all) => {
            say!("{told} of {pairs} of products are told apart at {at}", told, at, pairs = count(all, "pair"))
        }
    }
}

/// On how many sections and readings the products stand; empty where some of them were stopped, which the table of who may lead tells.
fn read(study: &Study, measure: &MeasureAnalysis, round: &RoundAnalysis) -> String {
    let Some(table) = round.lead.as_ref().ok().filter(|table| table.bound.is_empty()) else {
        return String::new();
    };
    let (n, readings) =
        table.rows.iter().fold((0, 0), |(n, readings), row| (n + row.n, readings + row.readings as usize));
    say!(
        " ({units}, {readings})",
        units = names::units(study, measure.measure, n),
        readings = count(readings, "reading")
    )
}

fn rests_on((study, measure): (&Study, MeasureId), table: &PairTable, own: Option<&str>) -> String {
    let text = rests_on_shared((study, measure), table);
    own.map_or_else(|| text.clone(), |own| format!("{text} {own}"))
}

fn rests_on_shared((study, measure): (&Study, MeasureId), table: &PairTable) -> String {
    let (basis, unit) = (&table.basis, names::unit(study, measure));
    let pieces = names::pieces(study, measure);
    let none = table.rows.iter().all(|row| row.word.is_err());
    if let Some(reason) = table.rows.first().filter(|_| none).and_then(|row| row.word.err()) {
        return say!("No word is given: {strength}.", strength = names::strength(reason, unit));
    }
    if basis.over_sites {
        return say!(
            "Each difference is the average over the sites, every site counting alike. Intervals are simultaneous over all pairs, 95 % \
             (Tukey-Kramer), on the scatter of sections that carry the same at the same site."
        )
        .to_owned();
    }
    if basis.linked() {
        return say!(
            "Intervals are simultaneous over all pairs, 95 % (Tukey-Kramer), each with an error of its own, on the spread beside products \
             and their {pieces}.",
            pieces
        );
    }
    let pooled = say!(
        "Intervals are simultaneous over all pairs, 95 % (Tukey-Kramer), on the spread that all {units} treated alike share{beside}.",
        units = plural(2, unit),
        beside = if basis.scatter_of == ScatterOf::Products {
            say!(
                ", with what {pieces} add taken out, and without what bare alone does otherwise from place to place",
                pieces
            )
        } else if basis.within_pieces() {
            say!(", with what {pieces} add taken out", pieces)
        } else {
            String::new()
        }
    );
    let pooled = if table.rows.iter().all(|row| row.farther == Farther::No) {
        pooled
    } else {
        say!(
            "{pooled} Where {units} of a product were stopped, all of it is left out of that spread; a difference to it rests on both \
             spreads, one end of it is known, and it has no p.",
            pooled,
            units = plural(2, unit)
        )
    };
    match (basis.own_spreads, study.spreads_differ) {
        (true, _) => say!("The study says that spreads differ, and every product has 4 sections or more: each keeps its own \
                      spread, and intervals are simultaneous over all pairs, 95 % (Games-Howell).")
            .to_owned(),
        (false, true) => say!("The study says that spreads differ; with fewer than 4 sections to a product that cannot be followed. {pooled}", pooled),
        (false, false) => pooled,
    }
}

fn out(study: &Study, rows: &[&PairRow], style: Style<'_>) -> Table {
    let heads = [
        say!("Product"),
        say!("against"),
        &say!(">Difference, {unit}", unit = style.difference_unit()),
        say!(">95 % interval"),
        say!("Word"),
        ">p",
    ];
    let mut out = Table::new(&heads);
    for row in rows {
        out.row(vec![
            Figure::from(names::product(study, row.one)),
            Figure::from(names::product(study, row.other)),
            stopped::difference(style, row.difference, row.farther),
            row.interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high))),
            row.word.map_or_else(|_| Figure::none(), |word| Figure::from(names::word(word))),
            stopped::p((row.p, false), (row.farther, row.word), numbers::probability),
        ]);
    }
    out
}

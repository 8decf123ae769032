//! Chance of leading: how often each product comes first when its mean is drawn anew.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure};
use super::ranking::{Ranking, named};
use crate::analysis::{ChanceRow, ChanceTable, DrawnFrom};
use crate::speech::{list, plural, say};
use crate::study::{MeasureId, ProductId, Study, Treatment};

/// The chances beside the products that may lead; nothing where nobody is said to lead at all.
pub(in crate::report) fn part(material: &Material<'_>, ranking: &Ranking) -> Option<Part> {
    let study = material.study;
    names::sole_product(study).is_none().then_some(())?;
    let (measure, round) = material.analysis.shown()?;
    let at = names::round(study, round.round);
    let table = match material.analysis.chances.as_ref()? {
        Ok(table) => table,
        Err(reason) => {
            let mut part = Part::below(say!("No chance of leading at {at}", at));
            part.say(format!(
                "{}.",
                names::capital(&names::strength(*reason, names::unit(study, measure.measure)))
            ));
            return Some(part);
        }
    };
    let mut part = Part::below(say!("Chance of leading at {at}", at));
    part.say(say!("How often each product comes first when the mean of every product is drawn anew, {draws} times over. {how}", draws = numbers::grouped(table.draws.count), how = drawn_from((study, measure.measure), table)));
    part.say(
        say!("It tells how firmly these sections hold their order. It is no chance for another panel, site or season, and a \
         product with most of the chance need not be told apart from the next one: who may lead is said by the table \
         above, and by it alone."),
    );
    let bound = round.lead.as_ref().map_or(&[][..], |table| table.bound.as_slice());
    if !bound.is_empty() {
        part.say(say!(
            "Nothing is drawn for {products}: patches of theirs were stopped before, and these are chances among the others alone.",
            products = list(&names::products(study, bound), "and")
        ));
    }
    let hopeless = hopeless(table);
    part.table(rows((study, measure.measure), ranking, table, &hopeless));
    if !hopeless.is_empty() {
        let products = list(&names::products(study, &hopeless), "and");
        part.say(if table.rows.len() > 3 {
            say!("Below 1 % in both columns: {products}.", products)
        } else {
            say!("Below 1 %: {products}.", products)
        });
    }
    part.rests_on(measure, [round.round]);
    Some(part)
}

fn drawn_from((study, measure): (&Study, MeasureId), table: &ChanceTable) -> String {
    let units = plural(2, names::unit(study, measure));
    match table.from {
        DrawnFrom::Sections => {
            say!(
                "Every product has 6 {units} or more, so its own {units} are drawn with replacement, with what so few leave open of their scatter.",
                units
            )
        }
        DrawnFrom::SharedSpread => say!(
            "At least one product has fewer than 6 {units}, too few to draw from; the means are drawn with the spread that all \
             {units} treated alike share, and with the uncertainty of that spread.",
            units
        ),
        DrawnFrom::WithinPieces => {
            say!(
                "Products are compared within {pieces}; the means are drawn with the spread that is left there, and with the \
             uncertainty of that spread.",
                pieces = names::pieces(study, measure)
            )
        }
        DrawnFrom::LinkedPieces => say!(
            "Products are compared within {pieces}, which carry them unevenly; their means over all {pieces} alike are drawn together, with \
             what they share, and with the uncertainty of the spread that is left there.",
            pieces = names::pieces(study, measure)
        ),
        DrawnFrom::OwnSpreads => say!(
            "The study says that spreads differ, and some product has fewer than 6 {units}; the mean of each is drawn \
             with its own spread, and with the uncertainty of that spread.",
            units
        ),
    }
}

/// Products that hardly ever come first or among the first three: a sentence holds them, where they are several.
fn hopeless(table: &ChanceTable) -> Vec<ProductId> {
    let least = numbers::share(0.0);
    let never =
        |row: &&ChanceRow| [row.first, row.among_three].iter().all(|share| numbers::share(*share) == least);
    let never: Vec<ProductId> = table.rows.iter().filter(never).map(|row| row.product).collect();
    if never.len() > 2 { never } else { Vec::new() }
}

fn rows(
    (study, measure): (&Study, MeasureId),
    ranking: &Ranking,
    table: &ChanceTable,
    hopeless: &[ProductId],
) -> Table {
    // Of three products each is among the first three, which says nothing.
    let three = table.rows.len() > 3;
    let units = names::units_head(study, measure);
    let mut heads = vec![say!("Product"), &units, say!(">Readings"), say!(">Comes first")];
    heads.extend(three.then_some(say!(">Among the first three")));
    let mut rows: Vec<&ChanceRow> =
        table.rows.iter().filter(|row| !hopeless.contains(&row.product)).collect();
    rows.sort_by_key(|row| ranking.place(Treatment::Product(row.product)));
    let mut out = Table::new(&heads);
    for row in rows {
        let mut cells = vec![
            Figure::from(named(study, Treatment::Product(row.product))),
            Figure::from(row.n.to_string()),
            Figure::from(row.readings.to_string()),
            chance(row.first),
        ];
        cells.extend(three.then(|| chance(row.among_three)));
        out.row(cells);
    }
    out.behind(1).behind(1)
}

fn chance(share: f64) -> Figure {
    Figure { raw: Some(share), text: numbers::share(share) }
}

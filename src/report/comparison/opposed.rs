//! Products that the change puts on one side of bare and the level on the other.

use super::super::material::Material;
use super::super::names;
use super::super::numbers::Style;
use crate::analysis::{ControlRow, ControlTable, Side, Word};
use crate::speech::{count, list, say};
use crate::study::{ProductId, Treatment};

/// The sentence on these at the round that decides; both differences lie beyond their intervals.
///
/// What a coat does before the reference is in every level and in no change, so that a change alone may call worse than bare what
/// still does more than bare.
pub(in crate::report) fn by_level(material: &Material<'_>) -> Option<String> {
    const FEW: usize = 3;
    let (measure, round) = material.analysis.deciding()?;
    let (changes, levels) = (round.to_bare.as_ref().ok()?, material.analysis.by_level.as_ref()?);
    let opposed: Vec<(ProductId, &ControlRow)> = told(changes)
        .filter_map(|(id, change)| Some((id, change, told(levels).find(|(other, _)| *other == id)?.1)))
        .filter(|(_, change, level)| change.side != level.side)
        .map(|(id, _, level)| (id, level))
        .collect();
    let first = opposed.first()?;
    let style = Style::of(material, measure.measure).as_sure_as(levels.standard_error());
    let value = |value: f64| style.value(value).text;
    let who = if opposed.len() <= FEW {
        let each = opposed.iter().map(|(id, level)| {
            say!("{name} at {value}", name = names::product(material.study, *id), value = value(level.change))
        });
        list(&each.collect::<Vec<_>>(), "and")
    } else {
        let means = || opposed.iter().map(|(_, level)| level.change);
        say!(
            "{products} at {low} to {high}",
            products = count(opposed.len(), "product"),
            low = style.bare(means().fold(f64::INFINITY, f64::min)),
            high = value(means().fold(f64::NEG_INFINITY, f64::max))
        )
    };
    let bare = value(levels.control.mean);
    let (at, from) = (
        names::round(material.study, round.round),
        names::reference(material.study.measure(measure.measure).change_from),
    );
    Some(if first.1.side == Side::Better {
        say!(
            "By the level at {at} the order to bare is the other way round, beyond the intervals. Better than bare, which stood at {bare}: {who}. The study is \
             decided by the change from {from}, which leaves out what a coat had done by then.",
            at,
            who,
            bare,
            from
        )
    } else {
        say!(
            "By the level at {at} the order to bare is the other way round, beyond the intervals. Worse than bare, which stood at {bare}: {who}. The study is \
             decided by the change from {from}, which leaves out where the sections began.",
            at,
            who,
            bare,
            from
        )
    })
}

/// The products that a table tells apart from bare.
fn told(table: &ControlTable) -> impl Iterator<Item = (ProductId, &ControlRow)> {
    let products = table.rows.iter().filter_map(|row| match row.treatment {
        Treatment::Product(id) => Some((id, row)),
        _ => None,
    });
    products
        .filter(|(_, row)| matches!(row.word, Ok(Word::Seen | Word::Measurable)) && row.side != Side::Neither)
}

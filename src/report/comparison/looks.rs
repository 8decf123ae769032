//! Differences to bare that are further looks, a row for each: with its numbers, its interval and its word.

use super::super::blocks::Table;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style};
use super::super::stopped;
use super::super::told::{self, Control};
use super::ranking::Ranking;
use crate::analysis::{ControlRow, ControlTable, Farther, Interval, RoundAnalysis, Strength, Word};
use crate::speech::say;
use crate::study::MeasureId;

/// The rows of some rounds of one measure.
pub(super) fn table(
    material: &Material<'_>,
    ranking: &Ranking,
    measure: MeasureId,
    rounds: &[(&RoundAnalysis, &ControlTable)],
) -> Table {
    let study = material.study;
    let style = Style::of(material, measure);
    let mut table = Table::new(&[
        say!("Round").to_owned(),
        say!("Product").to_owned(),
        names::units_head(study, measure),
        say!(">Readings").to_owned(),
        say!(">Difference, {unit}", unit = style.difference_unit()),
        say!(">95 % interval").to_owned(),
        say!("Word").to_owned(),
        say!(">p (Holm)").to_owned(),
    ]);
    for (round, at) in rounds {
        let style = style.as_sure_as(round.standard_error());
        let mut rows: Vec<&ControlRow> = at.rows.iter().collect();
        rows.sort_by_key(|row| ranking.place(row.treatment));
        for row in rows {
            table.row(vec![
                Figure::from(names::round(study, round.round)),
                Figure::from(names::treatment(study, row.treatment)),
                Figure::from(row.n.to_string()),
                Figure::from(row.readings.to_string()),
                stopped::difference(style, row.difference, row.farther),
                interval(row.interval, style),
                Figure::from(told::word(study, Control::Bare, at, row)),
                p(row.p_holm, row.farther, row.word),
            ]);
        }
    }
    table.behind(2).behind(2)
}

/// An interval of a difference, or a dash.
pub(super) fn interval(interval: Option<Interval>, style: Style<'_>) -> Figure {
    interval.map_or_else(Figure::none, |i| Figure::from(style.span(i.low, i.high)))
}

/// An adjusted p value, with an asterisk below 0.05. A difference with an open end has none, and yet is one of the looks that are adjusted
/// together: how many these are does not depend on how they came out.
pub(super) fn p(p: Option<f64>, farther: Farther, word: Result<Word, Strength>) -> Figure {
    stopped::p((p, true), (farther, word), |p| {
        let star = if p < 0.05 { " *" } else { "" };
        format!("{}{star}", numbers::probability(p))
    })
}

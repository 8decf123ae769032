//! Rounds at which products stood in another order than at the one that decides: a sentence of the answer, and its table.

use super::super::blocks::{Part, Table, Topic};
use super::super::claim::Claim;
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{self, Figure, Style, with_unit};
use super::looks;
use crate::analysis::{MeasureAnalysis, RoundAnalysis, Turned, TurnedRow};
use crate::speech::{count, list, say};

/// So many pairs are told in the answer; the table has all.
const FEW: usize = 3;

/// The pairs, where some stand against the order, with the measure and the round of that order.
fn found<'m>(material: &'m Material<'_>) -> Option<(&'m Turned, &'m MeasureAnalysis, &'m RoundAnalysis)> {
    let turned = material.analysis.turned.as_ref().filter(|turned| !turned.rows.is_empty())?;
    let (measure, round) = material.analysis.shown()?;
    Some((turned, measure, round))
}

/// The claim of the answer.
pub(in crate::report) fn claim(material: &Material<'_>) -> Option<Claim> {
    let (turned, measure, round) = found(material)?;
    let style = Style::of(material, measure.measure);
    let told = |row: &TurnedRow| {
        say!(
            "{ahead} ahead of {behind} at {round}, by {by} (p {p})",
            ahead = names::product(material.study, row.pair.one),
            behind = names::product(material.study, row.pair.other),
            round = names::round(material.study, row.round),
            by = with_unit(&style.bare(row.pair.difference.abs()), style.difference_unit()),
            p = numbers::probability(row.p)
        )
    };
    let first: Vec<String> = turned.rows.iter().take(FEW).map(told).collect();
    let more = turned.rows.len().saturating_sub(FEW);
    let more = if more == 0 {
        String::new()
    } else {
        say!("; {pairs} more in the table", pairs = count(more, "pair"))
    };
    let text = say!(
        "At other rounds the order was another, and {at} does not show that: {told}{more}. These are told apart among all {pairs} of products at \
         the {rounds} tested for it.",
        at = names::round(material.study, round.round),
        told = list(&first, "and"),
        more,
        pairs = count(turned.pairs, "pair"),
        rounds = count(turned.rounds.len(), "other round")
    );
    Some(Claim::new(text, Topic::Turned))
}

/// Every pair against the order.
pub(in crate::report) fn part(material: &Material<'_>) -> Option<Part> {
    let (turned, measure, round) = found(material)?;
    let study = material.study;
    let style = Style::of(material, measure.measure);
    let at = names::round(study, round.round);
    let mut part = Part::below(say!("Pairs that stood the other way at other rounds")).about(Topic::Turned);
    part.say(say!(
        "Two products that are told apart at {at} the other way, or one that may lead at {at} behind one that may not. Every pair was tested \
         at every other round that was read ({pairs} at {rounds}): the interval is simultaneous over all pairs of its round, and p is that of its \
         round times {n}, for all rounds together (Bonferroni). The table has all that are below 0.05 and stand against the order at {at}.",
        at,
        pairs = count(turned.pairs, "pair"),
        rounds = count(turned.rounds.len(), "other round"),
        n = turned.rounds.len()
    ));
    let mut table = Table::new(&[
        say!("Round").to_owned(),
        say!("Product").to_owned(),
        say!("ahead of").to_owned(),
        say!(">Difference, {unit}", unit = style.difference_unit()),
        say!(">95 % interval").to_owned(),
        ">p".to_owned(),
    ]);
    for row in &turned.rows {
        table.row(vec![
            Figure::from(names::round(study, row.round)),
            Figure::from(names::product(study, row.pair.one)),
            Figure::from(names::product(study, row.pair.other)),
            Figure { raw: Some(row.pair.difference), text: style.signed(row.pair.difference) },
            looks::interval(row.pair.interval, style),
            Figure { raw: Some(row.p), text: numbers::probability(row.p) },
        ]);
    }
    part.table(table);
    let mut rounds: Vec<_> = turned.rows.iter().map(|row| row.round).collect();
    rounds.dedup();
    part.rests_on(measure, rounds);
    Some(part)
}

//! Every section beside those around it, at the round that is shown: where it stands, and no correction.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Figure, Style};
use crate::speech::{count, list, say};

/// A table of more sections than this would be longer than anybody reads.
const MOST: usize = 60;

pub(super) fn part(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let rows = &material.analysis.panel.beside;
    if rows.is_empty() {
        return None;
    }
    let style = Style::of(study, study.measure(measure.measure));
    let mut part = Part::below(say!(
        "Each section beside its neighbours at {round}",
        round = names::round(study, round.round)
    ));
    let with = |pick: fn(&crate::analysis::Beside) -> Option<f64>| {
        rows.iter().filter(|row| pick(row).is_some()).count()
    };
    let flat = study.lies_flat();
    let (measured, sections, between) = (
        names::measure(study, measure.measure),
        count(with(|row| row.above), "section"),
        count(with(|row| row.sides), "section"),
    );
    let stands = stands(material);
    part.say(if study.is_on_racks() {
        say!("Change of {measure}: each section less the one above it on its rack ({sections}), and less the mean of those left and right \
         of it ({between}). {stands}", measure = measured, sections, between, stands)
    } else if flat {
        say!("Change of {measure}: each section less the next one towards the top edge of the map ({sections}), and less the mean of \
         those left and right of it ({between}). The panel lies flat, so that no side is up. {stands}", measure = measured, sections, between, stands)
    } else {
        say!("Change of {measure}: each section less the one above it, nearer the top edge, from where water runs down a panel that \
         stands ({sections}), and less the mean of those left and right of it ({between}). {stands}", measure = measured, sections, between, stands)
    });
    if rows.len() > MOST {
        part.say(say!(
            "The table of {sections} is left out for its length.",
            sections = count(rows.len(), "section")
        ));
        return Some(part);
    }
    let less =
        if flat && !study.is_on_racks() { say!(">less towards top edge") } else { say!(">less above") };
    let change = say!(">Change, {unit}", unit = style.unit);
    let mut table = Table::new(&[say!("Section"), say!("Product"), &change, less, say!(">less beside")]);
    let signed = |value: f64| Figure { raw: Some(value), text: style.signed(value) };
    for row in rows {
        table.row(vec![
            Figure::from(names::section(study, row.section)),
            Figure::from(names::treatment(study, row.treatment)),
            signed(row.change),
            row.above.map_or_else(Figure::none, signed),
            row.sides.map_or_else(Figure::none, signed),
        ]);
    }
    part.table(table);
    part.rests_on(measure, [round.round]);
    Some(part)
}

/// What a difference to the neighbours is good for: next to a section that carries the same there is no other product in it.
fn stands(material: &Material<'_>) -> String {
    let rows = &material.analysis.panel.beside;
    let like: Vec<&str> =
        rows.iter().filter(|row| row.like).map(|row| names::section(material.study, row.section)).collect();
    if like.is_empty() {
        say!("Neighbours carry other products, so this tells where a section stands, and nothing is corrected by it.").to_owned()
    } else if like.len() == rows.len() {
        say!("Every section has a neighbour that carries the same, and most have others as well; this tells where a section stands, \
         and nothing is corrected by it.").to_owned()
    } else {
        say!(
            "Neighbours carry other products, but for {sections}, beside which the same lies as well; this tells where a section stands, \
         and nothing is corrected by it.",
            sections = list(&like, "and")
        )
    }
}

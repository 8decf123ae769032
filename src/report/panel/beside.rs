//! Every section beside those around it, at the round that is shown: where it stands, and no correction.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Figure, Style};
use crate::diag::count;

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
    let mut part =
        Part::below(format!("Each section beside its neighbours at {}", names::round(study, round.round)));
    let with = |pick: fn(&crate::analysis::Beside) -> Option<f64>| {
        rows.iter().filter(|row| pick(row).is_some()).count()
    };
    let flat = study.lies_flat();
    let next = if flat {
        "the next one towards the top edge of the map, which lies flat and has no way for water to run"
    } else {
        "the one above it, nearer the top edge, from where water runs down a panel that stands"
    };
    part.say(format!(
        "Change of {}: each section less {next} ({}), and less the mean of those left and right of it ({}). Neighbours \
         carry other products, so this tells where a section stands, and nothing is corrected by it.",
        names::measure(study, measure.measure),
        count(with(|row| row.above), "section"),
        count(with(|row| row.sides), "section")
    ));
    if rows.len() > MOST {
        part.say(format!("The table of {} is left out for its length.", count(rows.len(), "section")));
        return Some(part);
    }
    let less = if flat { ">less towards top edge" } else { ">less above" };
    let change = format!(">Change, {}", style.unit);
    let mut table = Table::new(&["Section", "Product", &change, less, ">less beside"]);
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
    Some(part)
}

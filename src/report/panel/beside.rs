//! Every section beside those around it, each off the mean of what it carries: where it stands, and no correction.

use super::super::blocks::{Part, Table};
use super::super::material::Material;
use super::super::names;
use super::super::numbers::{Figure, Style};
use crate::analysis::{Basis, MeasureAnalysis, RoundAnalysis};
use crate::speech::{count, say};
use crate::study::Study;

/// A table of more sections than this would be longer than anybody reads.
const MOST: usize = 60;

pub(super) fn part(material: &Material<'_>) -> Option<Part> {
    let study = material.study;
    let (measure, round) = material.analysis.shown()?;
    let rows = &material.analysis.panel.beside;
    if rows.is_empty() {
        return None;
    }
    let mut part = Part::below(say!(
        "Each section beside its neighbours at {round}",
        round = names::round(study, round.round)
    ));
    let with = |pick: fn(&crate::analysis::Beside) -> Option<f64>| {
        rows.iter().filter(|row| pick(row).is_some()).count()
    };
    let flat = study.lies_flat();
    let alone = rows.iter().filter(|row| row.off.is_none()).count();
    let (measured, sections, between) = (
        names::measure(study, measure.measure),
        count(with(|row| row.above), "section"),
        count(with(|row| row.sides), "section"),
    );
    let of = off_what(study, measure, round);
    let mut text = if study.is_on_racks() {
        say!(
            "{measure}: how far each section lies off {of}. Behind it \
             stands the same minus the figure of the one above it on its rack ({sections}), and minus the mean of those left and right of it ({between}).",
            measure = names::capital(measured),
            of,
            sections,
            between
        )
    } else if flat {
        say!(
            "{measure}: how far each section lies off {of}. Behind it \
             stands the same minus the figure of the next one towards the top edge of the map ({sections}), and minus the mean of those left and right \
             of it ({between}). The panel lies flat, so that no side is up.",
            measure = names::capital(measured),
            of,
            sections,
            between
        )
    } else {
        say!(
            "{measure}: how far each section lies off {of}. Behind it \
             stands the same minus the figure of the one above it, from where water runs down a panel that stands ({sections}), and minus the mean of \
             those left and right of it ({between}).",
            measure = names::capital(measured),
            of,
            sections,
            between
        )
    };
    if alone > 0 {
        text += " ";
        text += &say!(
            "{sections} carry what no other does: of these the place cannot be told from what they carry.",
            sections = count(alone, "section")
        );
    }
    part.say(text);
    if rows.len() > MOST {
        part.say(say!(
            "The table of {sections} is left out for its length.",
            sections = count(rows.len(), "section")
        ));
        return Some(part);
    }
    part.table(table(material, (measure, rows), flat && !study.is_on_racks()));
    part.rests_on(measure, [round.round]);
    Some(part)
}

/// What a section lies off: where products are compared within pieces, that takes out what these add as well.
fn off_what(study: &Study, measure: &MeasureAnalysis, round: &RoundAnalysis) -> String {
    let bare = round.to_bare.as_ref().ok().map(|table| &table.basis);
    let within =
        bare.or(round.lead.as_ref().ok().map(|table| &table.basis)).is_some_and(Basis::within_pieces);
    if within {
        say!(
            "what its treatment and its {pieces} together give it by least squares, so that what products and {pieces} differ by is not in it",
            pieces = names::pieces(study, measure.measure)
        )
    } else {
        say!("the mean of the sections treated alike, so that what products differ by is not in it")
            .to_owned()
    }
}

fn table(
    material: &Material<'_>,
    (measure, rows): (&MeasureAnalysis, &[crate::analysis::Beside]),
    flat: bool,
) -> Table {
    let study = material.study;
    let style = Style::of(material, measure.measure);
    let less = if flat { say!(">Minus the one towards the top edge") } else { say!(">Minus the one above") };
    let head = names::compared_head(measure.compared, style.unit);
    let off = say!(">Off its treatment");
    let mut table =
        Table::new(&[say!("Section"), say!("Product"), &head, off, less, say!(">Minus those beside")]);
    let signed = |value: f64| Figure { raw: Some(value), text: style.signed(value) };
    for row in rows {
        table.row(vec![
            Figure::from(names::section(study, row.section)),
            Figure::from(names::treatment(study, row.treatment)),
            style.compared(row.value, measure.compared),
            row.off.map_or_else(Figure::none, signed),
            row.above.map_or_else(Figure::none, signed),
            row.sides.map_or_else(Figure::none, signed),
        ]);
    }
    table
}

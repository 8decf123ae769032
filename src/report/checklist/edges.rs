//! Where the edges of sections lie, in mm from the datum: what one tapes by, where the map shows only how it looks.

use super::super::safety::Entry;
use super::lines::BOXED;
use crate::speech::{count, say};
use crate::study::{Outline, Section, Study, Treatment, Verb};
use std::collections::BTreeMap;

/// A line for the columns of the drawing, one for its rows, and one for each section that stands beside it. Specimens on a rack
/// are not taped.
pub(super) fn edges(study: &Study) -> Vec<Entry> {
    let mut columns: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
    let mut rows: BTreeMap<usize, (f64, f64)> = BTreeMap::new();
    let mut single = Vec::new();
    if study.grids.iter().any(|grid| grid.rack) || study.grids.len() > 1 {
        return Vec::new();
    }
    for section in &study.sections {
        let Some(outline) = &section.outline else { continue };
        let (left, top, right, bottom) = outline.bounds();
        match (section.column, section.row) {
            (Some(column), Some(row)) => {
                columns.insert(column, (left, right));
                rows.insert(row, (top, bottom));
            }
            _ => single.push(place(section, outline)),
        }
    }
    let mut facts = Vec::new();
    if !columns.is_empty() {
        let across = columns.iter().map(|(&at, edges)| named(&(at + 1).to_string(), *edges));
        facts.push(Entry::new(say!("From left"), say!("{edges} mm", edges = joined(across))));
    }
    if !rows.is_empty() {
        let down = rows.iter().map(|(&at, edges)| named(&letter(study, at), *edges));
        facts.push(Entry::new(say!("From top"), say!("{edges} mm", edges = joined(down))));
    }
    if !single.is_empty() {
        facts.push(Entry::new(say!("Single"), say!("{edges} mm", edges = joined(single.into_iter()))));
    }
    facts
}

/// The same in a sentence, where nothing is taped, so that no step says where a section lies.
pub(super) fn untaped(study: &Study) -> Option<String> {
    let taped = study.prep.iter().any(|step| step.verb == Verb::Tape);
    let edges = if taped { Vec::new() } else { edges(study) };
    let edges: Vec<String> =
        edges.into_iter().map(|edge| format!("{}: {}.", edge.label, edge.text)).collect();
    (!edges.is_empty()).then(|| say!("Where the sections lie. {edges}", edges = edges.join(" ")))
}

/// Whether it is told before the baseline, whose readings are the first that go by the map; else before the coats.
pub(super) fn are_told_at_baseline(study: &Study) -> bool {
    study.round_named("baseline").is_some_and(|id| !study.round(id).reads.is_empty())
}

/// On which side of these mm the tape lies: sections are drawn to their edges, and the lines between them stay bare.
pub(super) fn side(study: &Study) -> Option<Entry> {
    let drawn = study.sections.iter().any(|section| section.outline.is_some());
    (drawn && !study.is_on_racks()).then(|| {
        Entry::new(
            say!("It lies"),
            say!("outside each section, its edge on these mm: the section within them stays free of tape"),
        )
    })
}

/// Every section that is taped, so that no place of the drawing between them is taped for one.
pub(super) fn taped(study: &Study) -> Option<Entry> {
    let taped = study.sections.iter().filter(|section| section.treatment != Treatment::Untouched);
    let codes: Vec<&str> = taped.map(|section| section.code.as_str()).collect();
    let number = count(codes.len(), "section");
    let words = if codes.len() > BOXED {
        say!("{number}, those of the map and no other places", number)
    } else {
        say!("these {number} and no other places: {codes}", number, codes = codes.join(", "))
    };
    (!codes.is_empty()).then(|| Entry::new(say!("Taped"), words))
}

/// The letter of a row, as its codes have it.
fn letter(study: &Study, row: usize) -> String {
    let code =
        study.sections.iter().find(|section| section.row == Some(row)).map(|section| section.code.as_str());
    code.unwrap_or_default().chars().take_while(|c| c.is_alphabetic()).collect()
}

fn joined(parts: impl Iterator<Item = String>) -> String {
    parts.collect::<Vec<_>>().join("; ")
}

/// `2: 256 to 436`.
fn named(name: &str, (from, to): (f64, f64)) -> String {
    say!("{name}: {from} to {to}", name, from = mm(from), to = mm(to))
}

fn place(section: &Section, outline: &Outline) -> String {
    let (left, top, right, bottom) = outline.bounds();
    let code = &section.code;
    let (left, right, top, bottom) = (mm(left), mm(right), mm(top), mm(bottom));
    if let Outline::Circle { .. } = outline {
        return say!(
            "{code}, round: from left {left} to {right}, from top {top} to {bottom}",
            code,
            left,
            right,
            top,
            bottom
        );
    }
    say!("{code}: from left {left} to {right}, from top {top} to {bottom}", code, left, right, top, bottom)
}

/// Tape is laid to a tenth of a millimetre at best, so that more figures would say more than a rule can.
fn mm(value: f64) -> String {
    super::super::numbers::decimal((value * 10.0).round() / 10.0)
}

//! Readings of a cell that have the same number in one file: a row may have been typed twice.

use super::model::{Kept, Readings};
use super::shelf::Packed;
use crate::diag::{Finding, Place, count, list};
use crate::study::{MeasureId, RoundId, SectionId, Study};
use crate::text::Span;
use std::collections::{BTreeMap, BTreeSet};

/// The doubled readings of one file, round and measure: a block of rows that was pasted twice is one slip.
#[derive(Debug, Default)]
struct Doubled {
    sections: BTreeSet<SectionId>,
    numbers: BTreeSet<u32>,
    /// The first reading whose number was given before, and the one that has it first.
    place: Option<(Span, Span)>,
    /// True where two numbers that bear one number lie farther apart than the gauge does, or differ at all where its
    /// spread is not known: these are two sections and not one row typed twice.
    differ: bool,
}

/// Two readings of one place agree within so many times the spread of the gauge (ISO 5725-6).
const AGREE: f64 = 2.8;

/// A numbered reading: file and person, since two people who read one section each count from 1; number, place, value.
type Numbered = ((u32, Option<u32>), u32, Span, f64);

/// Counts the doubled readings of every cell, and tells of them.
pub(super) fn findings(study: &Study, readings: &mut Readings) -> Vec<Finding> {
    let mut all: BTreeMap<(u32, RoundId, MeasureId), Doubled> = BTreeMap::new();
    let mut numbers: Vec<Numbered> = Vec::new();
    for at in 0..readings.cells.len() {
        let Some(cell) = readings.cells.get(at).filter(|cell| cell.numbered).copied() else { continue };
        numbers.clear();
        let agree = study.gauge_spread(cell.measure).map_or(0.0, |spread| AGREE * spread);
        for Kept { packed, context, number, .. } in readings.rows(&cell) {
            if packed.is(Packed::NUMBERED) {
                let value = if packed.is_kept_number() { packed.value } else { f64::NAN };
                numbers.push(((context.file, context.by), number, packed.span(), value));
            }
        }
        numbers.sort_unstable_by_key(|&(whose, number, span, _)| (whose, number, span));
        let mut twice = 0;
        for pair in numbers.windows(2) {
            let &[(whose, number, first, value), (other, same, again, next)] = pair else { continue };
            if (whose, number) != (other, same) {
                continue;
            }
            twice += 1;
            let doubled = all.entry((whose.0, cell.round, cell.measure)).or_default();
            doubled.sections.insert(cell.section);
            doubled.numbers.insert(number);
            doubled.differ |= (value - next).abs() > agree;
            if doubled.place.is_none_or(|(earliest, _)| again.start < earliest.start) {
                doubled.place = Some((again, first));
            }
        }
        if let Some(cell) = readings.cells.get_mut(at) {
            cell.doubled = twice;
        }
    }
    all.iter().filter_map(|(&key, doubled)| told(study, readings, key, doubled)).collect()
}

fn told(
    study: &Study,
    readings: &Readings,
    (file, round, measure): (u32, RoundId, MeasureId),
    doubled: &Doubled,
) -> Option<Finding> {
    let (again, first) = doubled.place?;
    let file = readings.files.get(file as usize)?.file.unwrap_or_default();
    let meant = meant(study, readings, (round, measure), doubled);
    let (round, measure) = (&study.round(round).name.value, &study.measure(measure).name.value);
    let numbers: Vec<String> = doubled.numbers.iter().take(12).map(u32::to_string).collect();
    let numbers = match numbers.as_slice() {
        [one] => format!("reading {one}"),
        several => format!("readings {}", list(several, "and")),
    };
    let codes: Vec<String> =
        doubled.sections.iter().take(6).map(|&id| format!("`{}`", study.section(id).code)).collect();
    let on = match doubled.sections.len() {
        n if n > codes.len() => count(n, "section"),
        _ => list(&codes, "and"),
    };
    let rows = if codes.len() == 1 { "another row gives" } else { "other rows give" };
    let message = format!("{rows} {numbers} of `{measure}` on {on} at `{round}` as well");
    let finding = Finding::warning("reading-number-twice", Place { file, span: again }, message)
        .related(Place { file, span: first }, "first here");
    let finding = match meant {
        Some(code) => finding.help(format!("did you mean `{code}`, which has no row in this round?")),
        None => finding,
    };
    let finding = finding
        .help("take the row out if it was typed twice; where two people read, name each in a column `by`; else correct its section, round or number. Until then both are kept")
        .about(round)
        .about(measure);
    Some(if let (1, Some(&section)) = (doubled.sections.len(), doubled.sections.first()) {
        finding.about(&study.section(section).code)
    } else {
        finding
    })
}

/// The one section of the round without a row, where the doubled readings are of one section and differ.
fn meant<'s>(
    study: &'s Study,
    readings: &Readings,
    (round, measure): (RoundId, MeasureId),
    doubled: &Doubled,
) -> Option<&'s str> {
    if doubled.sections.len() != 1 || !doubled.differ {
        return None;
    }
    let read = |id: SectionId| readings.cell(id, round, measure).is_some();
    let mut without = study.sections_with_ids().filter(|&(id, _)| !read(id));
    let (_, section) = without.next()?;
    without.next().is_none().then_some(section.code.as_str())
}

//! Finds the readings that statements of the study leave out. They stay in the list, marked.

use super::model::{At, Cell, FileState, Kept, Readings};
use super::shelf::{Kind, Packed};
use crate::diag::{Finding, count, list};
use crate::study::{LeaveOut, Study};
use crate::units::decimal;
use std::collections::BTreeSet;

/// Marks the readings that are left out; adds a finding for a statement that names none or several.
///
/// `later` has the places of files and the cells that rows of later days belong to. A statement about
/// such a cell may mean one of them, so it is no fault that nothing is found for it yet.
pub(super) fn apply(
    study: &Study,
    readings: &mut Readings,
    later: &BTreeSet<(usize, (u32, u32, u32))>,
    findings: &mut Vec<Finding>,
) {
    let is_later = |file: usize, wanted: &LeaveOut| {
        let id = |index: usize| u32::try_from(index).ok();
        let cell = (id(wanted.section.index()), id(wanted.round.index()), id(wanted.measure.index()));
        matches!(cell, (Some(section), Some(round), Some(measure)) if later.contains(&(file, (section, round, measure))))
    };
    for (file, declared) in study.readings.iter().enumerate() {
        // Nothing can be found in a file that is not there, is empty or could not be read; that is for other findings to say.
        let is_read = |state: &FileState| state.file.is_some() && !state.unread && state.rows > 0;
        if !readings.files.get(file).is_some_and(is_read) {
            continue;
        }
        for (statement, wanted) in declared.leave_out.iter().enumerate() {
            match find(study, readings, file, wanted) {
                Ok(at) => mark(readings, at, statement),
                Err(_) if is_later(file, wanted) || may_be_refused(readings, wanted) => {}
                Err(finding) => findings.push(*finding),
            }
        }
    }
    readings.left_out.sort_unstable();
}

/// Whether the reading may stand in a row that could not be placed: then that row is the fault, and not the statement.
fn may_be_refused(readings: &Readings, wanted: &LeaveOut) -> bool {
    readings.may_be_refused(wanted.section, wanted.round, wanted.measure)
        || readings.refused_sections(wanted.round) > 0
}

fn mark(readings: &mut Readings, (shelf, at): At, statement: usize) {
    let own = readings.shelves.get_mut(shelf as usize);
    if let (Some(own), Ok(statement)) = (own, u32::try_from(statement)) {
        own.each(at..at + 1, |packed| packed.marks |= Packed::LEFT_OUT);
        readings.left_out.push(((shelf, at), statement));
    }
}

/// Conversions leave noise in the last bits of a value, as in 50.800000000000004.
fn same_value(packed: &Packed, value: f64) -> bool {
    packed.kind == Kind::Taken && (packed.value - value).abs() <= 1e-9 * value.abs().max(1.0)
}

/// The place of the one reading that a statement means.
fn find(study: &Study, readings: &Readings, file: usize, wanted: &LeaveOut) -> Result<At, Box<Finding>> {
    let Some(cell) = readings.cell(wanted.section, wanted.round, wanted.measure) else {
        return Err(not_found(study, readings, wanted, None));
    };
    let is_own = |kept: &Kept<'_>| kept.context.file as usize == file && !kept.packed.is(Packed::LEFT_OUT);
    let mut fits: Vec<Kept<'_>> = readings.rows(cell).filter(is_own).collect();
    let numbered = fits.iter().any(|kept| kept.packed.is(Packed::NUMBERED));
    if let Some(value) = wanted.value {
        fits.retain(|kept| same_value(kept.packed, value));
    }
    if let Some(number) = wanted.reading {
        // The order of rows is no number. Where the file gives none, it only tells equal values apart,
        // so that sorting the file never changes which value is left out.
        let only_order = !numbered && (wanted.value.is_none() || fits.len() < 2);
        fits.retain(|kept| only_order || kept.number == number);
    }
    match fits.as_slice() {
        [] => Err(elsewhere(study, readings, (file, cell), wanted)
            .unwrap_or_else(|| not_found(study, readings, wanted, Some(cell)))),
        [one] => Ok(one.at),
        several => Err(ambiguous(study, readings, wanted, several)),
    }
}

fn cell_name(study: &Study, wanted: &LeaveOut) -> String {
    let measure = &study.measure(wanted.measure).name.value;
    let section = &study.section(wanted.section).code;
    format!("{measure} of {section} at {}", study.round(wanted.round).name.value)
}

fn meant(study: &Study, wanted: &LeaveOut) -> String {
    let unit = &study.measure(wanted.measure).unit.symbol;
    match (wanted.reading, wanted.value) {
        (Some(number), Some(value)) => format!("reading {number} of {} {unit}", decimal(value)),
        (Some(number), None) => format!("reading {number}"),
        (None, Some(value)) => format!("reading of {} {unit}", decimal(value)),
        (None, None) => "reading".into(),
    }
}

fn not_found(study: &Study, readings: &Readings, wanted: &LeaveOut, cell: Option<&Cell>) -> Box<Finding> {
    let message = format!("{} has no {} to leave out", cell_name(study, wanted), meant(study, wanted));
    let finding = Finding::error("left-out-not-found", wanted.span, message).binding();
    let unit = &study.measure(wanted.measure).unit.symbol;
    let values: Vec<String> = cell
        .into_iter()
        .flat_map(|cell| readings.of(cell))
        .filter_map(|one| Some((one.number, one.value.number()?)))
        .take(12)
        .map(|(number, value)| format!("{} ({number})", decimal(value)))
        .collect();
    Box::new(if values.is_empty() {
        finding.help(
            "the file has no number for it; take the statement out, or mend its section, round or measure",
        )
    } else {
        finding.help(format!("its readings in {unit}, with their numbers, are {}", list(&values, "and")))
    })
}

/// The reading stands in another file, under whose block the statement belongs: its places are those of that file.
fn elsewhere(
    study: &Study,
    readings: &Readings,
    (file, cell): (usize, &Cell),
    wanted: &LeaveOut,
) -> Option<Box<Finding>> {
    let is_meant = |kept: &Kept<'_>| {
        wanted.value.is_none_or(|value| same_value(kept.packed, value))
            && wanted.reading.is_none_or(|number| !kept.packed.is(Packed::NUMBERED) || kept.number == number)
    };
    let kept = readings.rows(cell).find(is_meant)?;
    let own =
        study.readings.get(kept.context.file as usize).filter(|_| kept.context.file as usize != file)?;
    let (name, other) = (&study.readings.get(file)?.name.value, &own.name.value);
    let message =
        format!("{} has no {} to leave out in `{name}`", cell_name(study, wanted), meant(study, wanted));
    let finding = Finding::error("left-out-not-found", wanted.span, message).binding();
    let finding = finding.related(readings.place(kept), "it stands here");
    Some(Box::new(finding.help(format!("put this line under `readings \"{other}\"`"))))
}

fn ambiguous(study: &Study, readings: &Readings, wanted: &LeaveOut, several: &[Kept<'_>]) -> Box<Finding> {
    let several_words = count(several.len(), "reading");
    let message = format!("{} has {several_words} that could be meant", cell_name(study, wanted));
    let mut finding = Finding::error("left-out-ambiguous", wanted.span, message).binding();
    for &kept in several.iter().take(4) {
        finding = finding.related(readings.place(kept), format!("reading {}", kept.number));
    }
    Box::new(match (wanted.value, wanted.reading) {
        (None, _) => finding.help("give the value of the reading"),
        (Some(_), None) => finding.help("give the number of the reading, as `reading 4`"),
        (Some(_), Some(_)) => finding.help("the file gives that number twice; number its readings on"),
    })
}

//! Which sheets are printed: those that are named, or what is due.

use crate::diag::{count, list, nearest};
use crate::readings::{Apart, Readings};
use crate::speech::{round_name, speak};
use crate::study::{RoundId, Study};
use jiff::civil::Date;

/// What an empty sheet is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetOf {
    /// A `read` step of the preparation, counted from 0.
    Prep(usize),
    /// A round.
    Round(RoundId),
}

/// The sheets that words ask for: names of rounds, `prep 1` and on, `next`, `left`, `all` and `none`.
///
/// # Errors
/// A word that is none of them, with what to write instead.
pub fn sheets_asked(
    study: &Study,
    readings: &Readings,
    day: Date,
    words: &[String],
) -> Result<Vec<SheetOf>, String> {
    let mut sheets = Vec::new();
    for word in words {
        match (named(study, word), word.as_str()) {
            (Some(id), _) if study.round(id).reads.is_empty() => {
                return Err(format!("`{word}` reads nothing, so it has no sheet"));
            }
            (Some(id), _) => sheets.push(SheetOf::Round(id)),
            (None, "next") => {
                sheets.extend(unread_prep(study, readings).map(SheetOf::Prep));
                sheets.extend(next(study, readings, day).map(SheetOf::Round));
            }
            (None, "left") => {
                sheets.extend(unread_prep(study, readings).map(SheetOf::Prep));
                sheets.extend(left(study, readings, day).into_iter().map(SheetOf::Round));
            }
            (None, "all") => {
                sheets.extend((0..study.prep_readings().count()).map(SheetOf::Prep));
                sheets.extend(read(study).map(SheetOf::Round));
            }
            (None, "none") => {}
            (None, _) => sheets.push(SheetOf::Prep(prep(study, word)?)),
        }
    }
    sheets.sort_unstable();
    sheets.dedup();
    Ok(sheets)
}

/// The `read` step of the preparation that `prep 2` names.
fn prep(study: &Study, word: &str) -> Result<usize, String> {
    let steps = study.prep_readings().count();
    let number =
        word.to_lowercase().strip_prefix("prep").map(|rest| rest.trim_matches(['-', '_', ' ']).to_owned());
    let Some(number) = number.and_then(|number| number.parse::<usize>().ok()) else {
        return Err(unknown(study, word));
    };
    let at = number.checked_sub(1).filter(|at| *at < steps);
    at.ok_or_else(|| {
        let steps = count(steps, "`read` step");
        format!("the preparation has {steps}, so that `{word}` has no sheet")
    })
}

/// The `read` steps of the preparation that can still be read: they have no readings, and no round has any.
fn unread_prep(study: &Study, readings: &Readings) -> impl Iterator<Item = usize> {
    let begun = study.rounds_with_ids().any(|(id, _)| readings.has_round(id));
    let steps = if begun { 0 } else { study.prep_readings().count() };
    (0..steps).filter(|at| !readings.apart().iter().any(|apart| apart.at == Apart::Prep(*at)))
}

fn named(study: &Study, word: &str) -> Option<RoundId> {
    let fold = |name: &str| name.replace(['-', '_', ' '], "").to_lowercase();
    let mut rounds = study.rounds_with_ids();
    // Also as the papers say it, in the language of the study.
    let _speech = speak(study.language);
    let is_said = |own: &str| fold(own) == fold(word) || fold(&round_name(own)) == fold(word);
    let loose = || study.rounds_with_ids().find(|(_, round)| is_said(&round.name.value));
    rounds.find(|(_, round)| round.name.value == word).or_else(loose).map(|(id, _)| id)
}

fn read(study: &Study) -> impl Iterator<Item = RoundId> {
    study.rounds_with_ids().filter(|(_, round)| !round.reads.is_empty()).map(|(id, _)| id)
}

/// The first by date of the rounds that can still be read.
fn next(study: &Study, readings: &Readings, day: Date) -> Option<RoundId> {
    let when = |id: RoundId| study.round(id).date();
    left(study, readings, day).into_iter().min_by_key(|&id| (when(id).is_none(), when(id), id))
}

/// The rounds that can still be read: each has no readings, no later one has, and its last day is not over.
fn left(study: &Study, readings: &Readings, day: Date) -> Vec<RoundId> {
    let when = |id: RoundId| study.round(id).date();
    let last_read = read(study).filter(|&id| readings.has_round(id)).filter_map(when).max();
    let open = read(study).filter(|&id| !readings.has_round(id)).filter(|&id| {
        let overtaken = when(id).is_some_and(|date| last_read.is_some_and(|last| date < last));
        !overtaken && study.round(id).window.is_none_or(|window| window.last >= day)
    });
    open.collect()
}

fn unknown(study: &Study, word: &str) -> String {
    let names: Vec<&str> = study.rounds.iter().map(|round| round.name.value.as_str()).collect();
    let help = match nearest(word, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if names.len() > 12 => format!("the study has {}", count(names.len(), "round")),
        None => format!("write `next`, `left`, `all`, `none` or one of {}", list(&names, "and")),
    };
    format!("no round is called `{word}`; {help}")
}

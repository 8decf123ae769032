//! Which rounds get a sheet: those that are named, or the one that is due.

use crate::diag::{count, list, nearest};
use crate::readings::Readings;
use crate::study::{RoundId, Study};
use jiff::civil::Date;

/// The rounds that words ask a sheet for: names of rounds, `next`, `all` and `none`.
///
/// # Errors
/// A word that is none of them, with what to write instead.
pub fn rounds_asked(
    study: &Study,
    readings: &Readings,
    day: Date,
    words: &[String],
) -> Result<Vec<RoundId>, String> {
    let mut rounds = Vec::new();
    for word in words {
        match (named(study, word), word.as_str()) {
            (Some(id), _) if study.round(id).reads.is_empty() => {
                return Err(format!("`{word}` reads nothing, so it has no sheet"));
            }
            (Some(id), _) => rounds.push(id),
            (None, "next") => rounds.extend(next(study, readings, day)),
            (None, "all") => rounds.extend(read(study)),
            (None, "none") => {}
            (None, _) => return Err(unknown(study, word)),
        }
    }
    rounds.sort_unstable();
    rounds.dedup();
    Ok(rounds)
}

fn named(study: &Study, word: &str) -> Option<RoundId> {
    let fold = |name: &str| name.replace(['-', '_', ' '], "").to_lowercase();
    let mut rounds = study.rounds_with_ids();
    let loose = || study.rounds_with_ids().find(|(_, round)| fold(&round.name.value) == fold(word));
    rounds.find(|(_, round)| round.name.value == word).or_else(loose).map(|(id, _)| id)
}

fn read(study: &Study) -> impl Iterator<Item = RoundId> {
    study.rounds_with_ids().filter(|(_, round)| !round.reads.is_empty()).map(|(id, _)| id)
}

/// The first round by date that can still be read: it has no readings, no later one has, and its last day is not over.
fn next(study: &Study, readings: &Readings, day: Date) -> Option<RoundId> {
    let when = |id: RoundId| study.round(id).date();
    let last_read = read(study).filter(|&id| readings.has_round(id)).filter_map(when).max();
    let open = read(study).filter(|&id| !readings.has_round(id)).filter(|&id| {
        let overtaken = when(id).is_some_and(|date| last_read.is_some_and(|last| date < last));
        !overtaken && study.round(id).window.is_none_or(|window| window.last >= day)
    });
    open.min_by_key(|&id| (when(id).is_none(), when(id), id))
}

fn unknown(study: &Study, word: &str) -> String {
    let names: Vec<&str> = study.rounds.iter().map(|round| round.name.value.as_str()).collect();
    let help = match nearest(word, names.iter().copied()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if names.len() > 12 => format!("the study has {}", count(names.len(), "round")),
        None => format!("write `next`, `all`, `none` or one of {}", list(&names, "and")),
    };
    format!("no round is called `{word}`; {help}")
}

//! Numbers of what was stopped before a round: bounds, told with the round of the stop, and never as if they were of the same round.

use super::names;
use super::numbers::{self, Figure, Style};
use crate::analysis::{Farther, GroupValue, MeasureAnalysis, Missing, Strength, Word};
use crate::speech::{list, say};
use crate::study::{Direction, Study, Treatment};

/// What a treatment has at a round, by the number of it that is told.
pub(super) type Told<'v> = (Treatment, &'v GroupValue);

/// Whether the number is of the round alone.
pub(super) fn is_whole(value: &GroupValue) -> bool {
    value.carried == 0
}

/// Whether the treatment of a group was stopped as a whole.
pub(super) fn is_all(value: &GroupValue) -> bool {
    value.carried >= value.n
}

/// The rounds at which those sections of a treatment were read last that stand stopped at a place.
fn rounds(study: &Study, measure: &MeasureAnalysis, treatment: Treatment, place: usize) -> String {
    let last = last_rounds(measure, treatment, place);
    let last: Vec<_> = last.iter().map(|&at| names::round(study, measure.rounds[at].round)).collect();
    list(&last, "and")
}

/// The same by their places in the series.
fn last_rounds(measure: &MeasureAnalysis, treatment: Treatment, place: usize) -> Vec<usize> {
    let stopped = measure
        .sections
        .iter()
        .filter(|one| one.treatment == treatment)
        .filter(|one| one.at.get(place).is_some_and(|at| at.numbers.level == Err(Missing::Stopped)));
    let mut last: Vec<usize> =
        stopped.filter_map(|one| one.at[..place].iter().rposition(|at| at.numbers.level.is_ok())).collect();
    last.sort_unstable();
    last.dedup();
    last
}

/// `cycle 2, 3`: the rounds at which sections of a treatment stopped that stand so at a place; nothing where none did.
pub(super) fn at(study: &Study, measure: &MeasureAnalysis, treatment: Treatment, place: usize) -> String {
    let last = last_rounds(measure, treatment, place);
    let names: Vec<_> = last.iter().map(|&at| names::round(study, measure.rounds[at].round)).collect();
    let parted: Option<Vec<(&str, &str)>> = names.iter().map(|name| name.rsplit_once(' ')).collect();
    match parted.as_deref() {
        Some([(word, first), rest @ ..]) if rest.iter().all(|(own, _)| own == word) => {
            let numbers = std::iter::once(*first).chain(rest.iter().map(|(_, number)| *number));
            format!("{word} {}", numbers.collect::<Vec<_>>().join(", "))
        }
        _ => names.join(", "),
    }
}

/// `bare −8.7 (cycle 2 and cycle 3)`: each with the number that its sections had at the stop, by `number`; nothing where none was stopped.
pub(super) fn words<'v>(
    study: &Study,
    (measure, place): (&MeasureAnalysis, usize),
    values: impl Iterator<Item = Told<'v>>,
    number: impl Fn(&GroupValue) -> String,
) -> Option<String> {
    let stopped = values.filter(|(_, value)| !is_whole(value)).map(|(treatment, value)| {
        let (who, number) = (names::treatment(study, treatment), number(value));
        let at = rounds(study, measure, treatment, place);
        if is_all(value) {
            format!("{who} {number} ({at})")
        } else {
            let (stopped, all) = (value.carried, value.n);
            say!("{who} {number} ({stopped} of {all} at {at})", who, number, stopped, all, at)
        }
    });
    let stopped: Vec<String> = stopped.collect();
    let stopped = (!stopped.is_empty()).then(|| list(&stopped, "and"))?;
    Some(say!("stopped before, with the number then: {stopped}", stopped))
}

/// `stopped before: Rye Wax (1 of 2) and bare`: who was, for a heading; nothing where none was.
pub(super) fn who<'v>(study: &Study, values: impl Iterator<Item = Told<'v>>) -> Option<String> {
    let stopped = values.filter(|(_, value)| !is_whole(value)).map(|(treatment, value)| {
        let who = names::treatment(study, treatment);
        if is_all(value) {
            who
        } else {
            say!("{who} ({stopped} of {all})", who, stopped = value.carried, all = value.n)
        }
    });
    let stopped: Vec<String> = stopped.collect();
    (!stopped.is_empty()).then(|| say!("stopped before: {stopped}", stopped = list(&stopped, "and")))
}

/// A number of a mean with sections that were stopped, as the bound that it is: going on would have left them as bad or worse.
pub(super) fn bound(figure: Figure, direction: Direction, value: &GroupValue) -> Figure {
    if is_whole(value) { figure } else { as_bound(figure, direction) }
}

/// A number of what was stopped as the bound that it is.
pub(super) fn as_bound(figure: Figure, direction: Direction) -> Figure {
    let number = figure.text;
    let text = match direction {
        Direction::Higher => numbers::at_most(&number),
        Direction::Lower => numbers::at_least(&number),
        Direction::Neither => say!("{number} at the stop", number),
    };
    Figure { text, ..figure }
}

/// A difference; where a side of it is a bound, which way it may lie farther.
pub(super) fn difference(style: Style<'_>, difference: f64, farther: Farther) -> Figure {
    let number = style.signed(difference);
    let text = match farther {
        Farther::Up => numbers::at_least(&number),
        Farther::Down => numbers::at_most(&number),
        Farther::Either => return Figure::none(),
        Farther::No => number,
    };
    Figure { raw: Some(difference), text }
}

/// A p value that was worked out, with what `text` makes of it; one that stands for what nothing can be shown of only as a number that counts
/// among others, where it does.
pub(super) fn p(
    (p, counts): (Option<f64>, bool),
    (farther, word): (Farther, Result<Word, Strength>),
    text: impl Fn(f64) -> String,
) -> Figure {
    match p {
        Some(p) if farther == Farther::No && (word.is_ok() || p < 1.0) => {
            Figure { raw: Some(p), text: text(p) }
        }
        Some(_) if counts => Figure::from(counted()),
        _ => Figure::none(),
    }
}

/// What stands for the p value of a row that counts among others and can show nothing.
pub(super) fn counted() -> &'static str {
    say!("counted as 1")
}

/// How rounds are judged before which something was stopped. The share of wrong ends is from 200 000 simulated studies each of 2 to 8 products on
/// 2 or 4 sections, with spreads up to ten times apart (R 4.2.2).
pub(super) fn method() -> &'static str {
    say!(
        "After a stop: the spread of a round comes from treatments of which no section was stopped before. A difference of one read to one \
         stopped has the error of both spreads (Welch 1938, Satterthwaite 1946); only its end at the stop is told, wrong for any row in 5 of \
         100 simulated studies at most. A row there without a p counts among further looks with p = 1."
    )
}

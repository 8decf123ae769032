//! Numbers of what was stopped before a round: bounds, told with the round of the stop, and never as if they were of the same round.

use super::names;
use super::numbers::{self, Figure, Style};
use crate::analysis::{GroupValue, Interval, MeasureAnalysis, Missing};
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

/// A difference of which a side is a bound: the end that is open says which way it may lie farther.
pub(super) fn difference(style: Style<'_>, difference: f64, interval: Option<Interval>) -> Figure {
    let number = style.signed(difference);
    let text = match interval.map(|interval| (interval.low.is_finite(), interval.high.is_finite())) {
        Some((true, false)) => numbers::at_least(&number),
        Some((false, true)) => numbers::at_most(&number),
        Some((false, false)) => return Figure::none(),
        Some((true, true)) | None => number,
    };
    Figure { raw: Some(difference), text }
}

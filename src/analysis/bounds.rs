//! Words that an interval does not carry: a side that is a bound and no value, or both sides at one end of the scale.

use super::ends::{self, At};
use super::model::{
    Basis, ControlTable, Farther, Interval, LeadTable, Missing, PairTable, Side, Strength, Word,
};
use super::word::word;
use crate::study::{Direction, MeasureKind, RoundId, Treatment};

/// Which way the mean of a treatment is known to be off.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lean {
    /// It is as good as it says, or worse.
    Flattered,
    /// It is as bad as it says, or better.
    Wronged,
    /// It is off, either way.
    Unknown,
}

/// Takes the words of a table against a control that its intervals do not carry.
///
/// Against sections that were stopped nothing is left open either: they do not stand still where the stop left them, and a product
/// that goes on falls towards them.
pub(super) fn of_control(table: &mut ControlTable, at: At<'_>, control: Treatment) {
    table.control_until = until(at, control);
    table.control_last = table.control_until.and_then(|_| last_read(at, control));
    for row in &mut table.rows {
        row.farther = farther(at, (row.treatment, control));
        row.interval = row.interval.map(|interval| opened(row.farther, interval));
        row.word = row.word.map(|known| said(at, row.farther, (known, row.interval)));
        row.word = row.word.and_then(|word| carried(at, (row.treatment, control), word, row.side));
        row.p = counted(&table.basis, row.farther, row.p);
        if table.control_until.is_some() && row.word == Ok(Word::NotSettled) {
            row.word = Err(Strength::Bound);
        }
        if row.word == Err(Strength::AtEnd) {
            (row.interval, row.p) = (None, None);
        }
    }
}

/// The word of an interval with an open end: it cannot be alike, and may be told where it was alike with both ends.
fn said((measure, ..): At<'_>, farther: Farther, (known, interval): (Word, Option<Interval>)) -> Word {
    interval.filter(|_| farther != Farther::No).map_or(known, |interval| word(interval, measure))
}

/// The p value that counts among others. A difference with a side that was stopped has none that holds far out, and where anything was stopped
/// every row counts all the same: how many rows a family has may not depend on how they came out.
fn counted(basis: &Basis, farther: Farther, p: Option<f64>) -> Option<f64> {
    let p = p.filter(|_| farther == Farther::No);
    if basis.stopped.is_empty() { p } else { p.or(Some(1.0)) }
}

/// Which way going on would have moved a difference: a mean with sections that were stopped is a bound.
fn farther((measure, series, place, _): At<'_>, (one, other): (Treatment, Treatment)) -> Farther {
    let stopped = |treatment: Treatment| {
        let mut own = series.iter().filter(|section| section.treatment == treatment);
        own.any(|section| section.at.get(place).is_some_and(|at| at.numbers.level == Err(Missing::Stopped)))
    };
    let (falls, rises) = (measure.direction != Direction::Lower, measure.direction != Direction::Higher);
    let (one, other) = (stopped(one), stopped(other));
    let (down, up) = ((one && falls) || (other && rises), (one && rises) || (other && falls));
    match (down, up) {
        (false, false) => Farther::No,
        (false, true) => Farther::Up,
        (true, false) => Farther::Down,
        (true, true) => Farther::Either,
    }
}

/// The interval without the end on which going on would have moved the difference.
fn opened(farther: Farther, interval: Interval) -> Interval {
    Interval {
        low: if matches!(farther, Farther::Down | Farther::Either) {
            f64::NEG_INFINITY
        } else {
            interval.low
        },
        high: if matches!(farther, Farther::Up | Farther::Either) { f64::INFINITY } else { interval.high },
    }
}

/// The last round at which any section of a treatment was read, where that lies before this one.
fn last_read((_, series, place, _): At<'_>, treatment: Treatment) -> Option<RoundId> {
    let own = || series.iter().filter(|section| section.treatment == treatment);
    let read = |at: usize| own().any(|section| section.at.get(at).is_some_and(|at| at.numbers.level.is_ok()));
    let last = (0..=place).rev().find(|&at| read(at)).filter(|&last| last < place)?;
    Some(own().next()?.at.get(last)?.round)
}

/// The last round at which no section of a treatment stood stopped, where one does at this round.
fn until((_, series, place, _): At<'_>, treatment: Treatment) -> Option<RoundId> {
    let own = || series.iter().filter(|section| section.treatment == treatment);
    let stopped = |place: usize| {
        own().any(|section| section.at.get(place).is_some_and(|at| at.numbers.level == Err(Missing::Stopped)))
    };
    let last = (0..place).rev().find(|&before| !stopped(before)).filter(|_| stopped(place))?;
    Some(own().next()?.at.get(last)?.round)
}

/// Takes the words of a table of pairs that its intervals do not carry.
pub(super) fn of_pairs(table: &mut PairTable, at: At<'_>) {
    for row in &mut table.rows {
        let two = (Treatment::Product(row.one), Treatment::Product(row.other));
        row.farther = farther(at, two);
        row.interval = row.interval.map(|interval| opened(row.farther, interval));
        row.word = row.word.map(|known| said(at, row.farther, (known, row.interval)));
        row.word = row.word.and_then(|word| carried(at, two, word, row.side));
        row.p = counted(&table.basis, row.farther, row.p);
        if row.word == Err(Strength::AtEnd) {
            (row.interval, row.p) = (None, None);
        }
    }
}

/// Products are not all alike as long as the mean of one is a bound, or two cannot be told at an end of the scale.
pub(super) fn of_lead(table: &mut LeadTable, at: At<'_>) {
    let products: Vec<Treatment> = table.rows.iter().map(|row| Treatment::Product(row.product)).collect();
    let ends: Vec<_> = products.iter().filter_map(|&one| ends::all_of(at, one)).collect();
    let together = ends.iter().enumerate().any(|(place, end)| ends[..place].contains(end));
    if together || products.iter().any(|&one| lean(at, one).is_some()) {
        table.all_alike = None;
    }
}

/// Whether what the marks of a treatment and of bare are known to be off by could undo how they differ.
pub(super) fn undoes(at: At<'_>, (one, other): (Treatment, Treatment), side: Side) -> bool {
    !widens(lean(at, one), lean(at, other), side)
}

/// The word, where the interval carries it: a difference that is told still holds where a bound can only widen it.
fn carried(
    at: At<'_>,
    (one, other): (Treatment, Treatment),
    word: Word,
    side: Side,
) -> Result<Word, Strength> {
    if ends::all_of(at, one).is_some_and(|end| ends::all_of(at, other) == Some(end)) {
        return Err(Strength::AtEnd);
    }
    let (one, other) = (lean(at, one), lean(at, other));
    match word {
        _ if one.is_none() && other.is_none() => Ok(word),
        Word::NotSettled => Ok(word),
        Word::Measurable | Word::Seen if widens(one, other, side) => Ok(word),
        _ => Err(Strength::Bound),
    }
}

/// Whether what two sides are off by can only widen the difference between them.
fn widens(one: Option<Lean>, other: Option<Lean>, side: Side) -> bool {
    let (ahead, behind) = match side {
        Side::Better => (one, other),
        Side::Worse => (other, one),
        Side::Neither => (one.and(Some(Lean::Unknown)), other.and(Some(Lean::Unknown))),
    };
    let only = |lean: Option<Lean>, allowed: Lean| lean.is_none_or(|lean| lean == allowed);
    only(ahead, Lean::Wronged) && only(behind, Lean::Flattered)
}

/// A patch that was stopped would have gone on as bad or worse; sections below the gauge are the lowest ones, and left out.
fn lean((measure, series, place, _): At<'_>, treatment: Treatment) -> Option<Lean> {
    let low = match (measure.direction, &measure.kind) {
        (Direction::Higher, MeasureKind::Read | MeasureKind::Part(_)) => Lean::Flattered,
        (Direction::Lower, MeasureKind::Read | MeasureKind::Part(_)) => Lean::Wronged,
        _ => Lean::Unknown,
    };
    let own = series.iter().filter(|section| section.treatment == treatment);
    let leans = own.filter_map(|section| match section.at.get(place)?.numbers.level {
        Err(Missing::Stopped) => Some(Lean::Flattered),
        Err(Missing::BelowGauge) => Some(low),
        _ => None,
    });
    leans.reduce(|one, other| if one == other { one } else { Lean::Unknown })
}

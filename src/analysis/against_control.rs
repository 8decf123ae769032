//! Differences to bare with simultaneous intervals after Dunnett.

use super::against_blank::Shares;
use super::groups;
use super::model::{
    Basis, Compared, ControlRow, ControlTable, Farther, GroupValue, Interval, NoTable, Strength,
};
use super::sample::Sample;
use super::word::{side, word};
use crate::stats::dunnett::{Comparison, against_control};
use crate::stats::solved::Solved;
use crate::stats::{GroupMean, Spread};
use crate::study::{Measure, Treatment};

/// Confidence of every simultaneous interval.
pub(super) const CONFIDENCE: f64 = 0.95;

/// The table of one round against bare, from its samples of changes, or of levels. Of levels that are shares of the blank it is by the
/// ratios to it, where the blank is a mean beside the others: on one spread, and not within pieces or sites.
pub(super) fn to_bare(
    samples: &[Sample],
    basis: &Basis,
    (measure, by): (&Measure, Compared),
    solved: &mut Solved,
) -> Result<ControlTable, NoTable> {
    let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare).ok_or(NoTable::NoBare)?;
    let bare = control(bare, basis).ok_or(NoTable::BareNotRead)?;
    let others = samples.iter().filter(|sample| sample.treatment != Treatment::Bare);
    let apart = by == Compared::Level && !basis.own_spreads && !basis.within_pieces();
    let shares = Shares::of(measure, false).filter(|_| apart);
    table(&others.collect::<Vec<_>>(), bare, (basis, shares), measure, solved)
}

/// The table of the products against sections without one that are not bare, as those with the carrier alone: a family of its own.
/// `None` where none of these has a number.
pub(super) fn to_productless(
    (samples, against): (&[Sample], Treatment),
    basis: &Basis,
    measure: &Measure,
    solved: &mut Solved,
) -> Option<ControlTable> {
    let own = control(samples.iter().find(|sample| sample.treatment == against)?, basis)?;
    let products = samples.iter().filter(|sample| matches!(sample.treatment, Treatment::Product(_)));
    table(&products.collect::<Vec<_>>(), own, (basis, None), measure, solved).ok()
}

/// The number of a control, where a section of it has one.
fn control(sample: &Sample, basis: &Basis) -> Option<GroupValue> {
    groups::value(sample, groups::spread_of(sample, basis.spread, basis.own_spreads))
}

/// Every other sample is a row of the same family, so that the intervals hold together for all that the table shows:
/// Dunnett (1955), Journal of the American Statistical Association 50, 1096-1121.
fn table(
    others: &[&Sample],
    control: GroupValue,
    (basis, shares): (&Basis, Option<Shares>),
    measure: &Measure,
    solved: &mut Solved,
) -> Result<ControlTable, NoTable> {
    let values: Vec<(Treatment, GroupValue)> = others
        .iter()
        .filter_map(|sample| Some((sample.treatment, groups::value(sample, basis.spread)?)))
        .collect();
    if values.is_empty() {
        return Err(NoTable::NoProducts);
    }
    let own: Vec<GroupValue> = values.iter().map(|(_, value)| *value).collect();
    let judged = each(&own, control, (basis, shares), solved);
    let unsure = judged.iter().any(|(_, strength)| *strength == Strength::BlankUnsure);
    let strength = if unsure { Strength::BlankUnsure } else { basis.strength };
    let rows = values.iter().zip(&judged);
    Ok(ControlTable {
        basis: Basis { strength, ..basis.clone() },
        of_ratios: shares.is_some(),
        critical: judged.iter().find_map(|(row, _)| *row).map(|row| row.critical),
        control,
        rows: rows.map(|(&value, &judged)| row(value, control, judged, measure)).collect(),
        absent: others
            .iter()
            .filter(|sample| sample.values.is_empty())
            .map(|sample| sample.treatment)
            .collect(),
        control_until: None,
        control_last: None,
    })
}

/// Every group against the control, by the spread that judges the two, with what may be said; each comes with the difference that its p
/// value is of. All of them are one family, whichever of them were stopped.
fn each(
    groups: &[GroupValue],
    control: GroupValue,
    (basis, shares): (&Basis, Option<Shares>),
    solved: &mut Solved,
) -> Vec<(Option<Comparison>, Strength)> {
    let scatters = matches!(basis.strength, Strength::Full | Strength::FewDegrees);
    let means: Vec<(GroupMean, f64)> = groups.iter().map(|value| (value.group(), 0.0)).collect();
    let mut found: Vec<(Spread, Option<Vec<Comparison>>)> = Vec::new();
    let one = |(at, value): (usize, &GroupValue)| {
        let (spread, strength) = basis.judged((value.n, value.carried > 0), (control.n, control.carried > 0));
        let Some(spread) = spread.filter(|_| scatters) else { return (None, strength) };
        if found.iter().all(|(own, _)| *own != spread) {
            found.push((spread, judged(&means, control.group(), (spread, shares), solved)));
        }
        let own = found.iter().find(|(own, _)| *own == spread).and_then(|(_, rows)| rows.as_ref());
        match own.and_then(|rows| rows.get(at)) {
            None if shares.is_some() => (None, Strength::BlankUnsure),
            row => (row.copied(), strength),
        }
    };
    groups.iter().enumerate().map(one).collect()
}

/// Every group against the control on one spread.
pub(super) fn judged(
    groups: &[(GroupMean, f64)],
    control: GroupMean,
    (spread, shares): (Spread, Option<Shares>),
    solved: &mut Solved,
) -> Option<Vec<Comparison>> {
    let Some(shares) = shares else {
        let moved = |&(group, from): &(GroupMean, f64)| GroupMean { mean: group.mean - from, ..group };
        let moved: Vec<GroupMean> = groups.iter().map(moved).collect();
        return against_control(&moved, control, spread, CONFIDENCE, solved);
    };
    shares.compared(groups, control, (spread, CONFIDENCE), solved)
}

fn row(
    (treatment, value): (Treatment, GroupValue),
    control: GroupValue,
    (judged, strength): (Option<Comparison>, Strength),
    measure: &Measure,
) -> ControlRow {
    let difference = value.mean - control.mean;
    let interval = judged.map(|judged| Interval { low: judged.low, high: judged.high });
    ControlRow {
        treatment,
        n: value.n,
        readings: value.readings,
        change: value.mean,
        difference,
        interval,
        p: judged.filter(|_| strength == Strength::Full).map(|judged| judged.p),
        p_holm: None,
        word: match (strength, interval) {
            (Strength::Full, Some(interval)) => Ok(word(interval, measure)),
            (strength, _) => Err(strength),
        },
        over_all: None,
        side: side(difference, measure.direction),
        farther: Farther::No,
    }
}

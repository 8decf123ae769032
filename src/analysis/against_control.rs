//! Differences to bare with simultaneous intervals after Dunnett.

use super::groups;
use super::model::{Basis, ControlRow, ControlTable, GroupValue, Interval, NoTable, Strength};
use super::sample::Sample;
use super::word::{side, word};
use crate::stats::GroupMean;
use crate::stats::dunnett::{Comparison, against_control};
use crate::stats::solved::Solved;
use crate::study::{Measure, Treatment};

/// Confidence of every simultaneous interval.
pub(super) const CONFIDENCE: f64 = 0.95;

/// The table of one round against bare, from its samples of changes.
pub(super) fn to_bare(
    samples: &[Sample],
    basis: &Basis,
    measure: &Measure,
    solved: &mut Solved,
) -> Result<ControlTable, NoTable> {
    let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare).ok_or(NoTable::NoBare)?;
    let bare = control(bare, basis).ok_or(NoTable::BareNotRead)?;
    let others = samples.iter().filter(|sample| sample.treatment != Treatment::Bare);
    table(&others.collect::<Vec<_>>(), bare, basis, measure, solved)
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
    table(&products.collect::<Vec<_>>(), own, basis, measure, solved).ok()
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
    basis: &Basis,
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
    let means: Vec<GroupMean> = values.iter().map(|(_, value)| value.group()).collect();
    let judged = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => {
            against_control(&means, control.group(), spread, CONFIDENCE, solved)
        }
        _ => None,
    };
    let judged = |at: usize| judged.as_ref().and_then(|judged| judged.get(at).copied());
    let rows = values.iter().enumerate();
    Ok(ControlTable {
        basis: basis.clone(),
        critical: judged(0).map(|row| row.critical),
        control,
        rows: rows.map(|(at, &value)| row(value, control, judged(at), basis.strength, measure)).collect(),
        absent: others
            .iter()
            .filter(|sample| sample.values.is_empty())
            .map(|sample| sample.treatment)
            .collect(),
        control_until: None,
        control_last: None,
    })
}

fn row(
    (treatment, value): (Treatment, GroupValue),
    control: GroupValue,
    judged: Option<Comparison>,
    strength: Strength,
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
    }
}

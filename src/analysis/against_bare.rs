//! Differences to bare, with simultaneous intervals after Dunnett.

use super::groups::{self, Sample};
use super::model::{BareRow, BareTable, Basis, GroupValue, Interval, NoTable, Strength};
use super::word::{side, word};
use crate::stats::GroupMean;
use crate::stats::dunnett::{Comparison, against_control};
use crate::stats::solved::Solved;
use crate::study::{Measure, Treatment};

/// The table of one round from its samples of changes.
///
/// Every treatment other than bare is a row of the same family, so that the intervals hold together for all that the
/// table shows: Dunnett (1955), Journal of the American Statistical Association 50, 1096-1121.
pub(super) fn table(
    samples: &[Sample],
    basis: &Basis,
    measure: &Measure,
    solved: &mut Solved,
) -> Result<BareTable, NoTable> {
    let bare = samples.iter().find(|sample| sample.treatment == Treatment::Bare).ok_or(NoTable::NoBare)?;
    let bare = groups::value(bare, basis.spread).ok_or(NoTable::BareNotRead)?;
    let others = || samples.iter().filter(|sample| sample.treatment != Treatment::Bare);
    let values: Vec<(Treatment, GroupValue)> = others()
        .filter_map(|sample| Some((sample.treatment, groups::value(sample, basis.spread)?)))
        .collect();
    if values.is_empty() {
        return Err(NoTable::NoProducts);
    }
    let means: Vec<GroupMean> = values.iter().map(|(_, value)| value.group()).collect();
    let judged = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => {
            against_control(&means, bare.group(), spread, 0.95, solved)
        }
        _ => None,
    };
    let judged = |at: usize| judged.as_ref().and_then(|judged| judged.get(at).copied());
    Ok(BareTable {
        basis: basis.clone(),
        critical: judged(0).map(|row| row.critical),
        bare,
        rows: values
            .iter()
            .enumerate()
            .map(|(at, &(treatment, value))| {
                row((treatment, value), bare, judged(at), basis.strength, measure)
            })
            .collect(),
        absent: others().filter(|sample| sample.values.is_empty()).map(|sample| sample.treatment).collect(),
    })
}

fn row(
    (treatment, value): (Treatment, GroupValue),
    bare: GroupValue,
    judged: Option<Comparison>,
    strength: Strength,
    measure: &Measure,
) -> BareRow {
    let difference = value.mean - bare.mean;
    let interval = judged.map(|judged| Interval { low: judged.low, high: judged.high });
    BareRow {
        treatment,
        n: value.n,
        change: value.mean,
        difference,
        interval,
        p: judged.map(|judged| judged.p),
        p_holm: None,
        word: match (strength, interval) {
            (Strength::Full, Some(interval)) => Ok(word(interval, measure)),
            (strength, _) => Err(strength),
        },
        side: side(difference, measure.direction),
    }
}

//! Differences to bare, with simultaneous intervals after Dunnett.

use super::basis::{Families, Family};
use super::groups::{self, Sample};
use super::model::{BareRow, BareTable, Basis, GroupValue, Interval, NoTable, Strength};
use super::word::{side, word};
use crate::study::{Measure, Treatment};

/// The table of one round from its samples of changes.
///
/// Every treatment other than bare is a row of the same family, so that the intervals hold together for all that the
/// table shows: Dunnett (1955), Journal of the American Statistical Association 50, 1096-1121.
pub(super) fn table(
    samples: &[Sample],
    basis: &Basis,
    measure: &Measure,
    families: &mut Families,
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
    let numbers = values.iter().map(|(_, value)| value.n).collect();
    let family = match (basis.strength, basis.spread) {
        (Strength::Full | Strength::FewDegrees, Some(spread)) => families.get(numbers, bare.n, spread.df),
        _ => None,
    };
    Ok(BareTable {
        basis: basis.clone(),
        critical: family.map(|family| family.critical),
        bare,
        rows: values
            .iter()
            .map(|&(treatment, value)| row(treatment, value, bare, basis, family, measure))
            .collect(),
        absent: others().filter(|sample| sample.values.is_empty()).map(|sample| sample.treatment).collect(),
    })
}

fn row(
    treatment: Treatment,
    value: GroupValue,
    bare: GroupValue,
    basis: &Basis,
    family: Option<&Family>,
    measure: &Measure,
) -> BareRow {
    let difference = value.mean - bare.mean;
    let judged = family.zip(basis.spread).and_then(|(family, spread)| {
        let error = spread.sd * (1.0 / value.n as f64 + 1.0 / bare.n as f64).sqrt();
        let half = family.critical * error;
        let interval = Interval { low: difference - half, high: difference + half };
        Some((interval, family.distribution.tail(difference / error, spread.df)?))
    });
    let interval = judged.map(|(interval, _)| interval);
    BareRow {
        treatment,
        n: value.n,
        change: value.mean,
        difference,
        interval,
        p: judged.map(|(_, p)| p),
        p_holm: None,
        word: match (basis.strength, interval) {
            (Strength::Full, Some(interval)) => Ok(word(interval, measure)),
            (strength, _) => Err(strength),
        },
        side: side(difference, measure.direction),
    }
}

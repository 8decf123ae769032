//! How long coats were on before they were put out: times that run from the last coat have these days in them.

use super::material::Material;
use super::numbers;
use crate::speech::say;
use jiff::civil::Date;

/// `9 days before the panel was put out`; `None` where nothing is put out, no day is known, or both fall on one day.
pub(super) fn behind_the_coats(material: &Material<'_>) -> Option<String> {
    let study = material.study;
    let coated = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let coated: Vec<Date> = coated.filter_map(|(id, _)| Some(study.last_coat(id)?.date())).collect();
    let out = || study.exposures.iter().filter_map(|exposure| Some(exposure.put_out.as_ref()?.value));
    let between = |coat: Date, out: Date| coat.duration_until(out).as_hours() / 24;
    let days = coated.iter().flat_map(|&coat| out().map(move |out| between(coat, out)));
    let (low, high) = days.fold(None, |ends: Option<(i64, i64)>, days| {
        Some(ends.map_or((days, days), |(low, high)| (low.min(days), high.max(days))))
    })?;
    if low < 0 || high == 0 {
        return None;
    }
    let days = if low == high { numbers::days(low) } else { numbers::days_between(low, high) };
    Some(if study.is_on_racks() {
        say!("{days} before the specimens were put out", days)
    } else {
        say!("{days} before the panel was put out", days)
    })
}

//! Time to spent of a treatment as a whole, where its sections are many.

use super::model::{GroupSpent, Half, SectionSpent, Spent, WithGauge};
use crate::stats::time_to::turnbull::{Seen, estimate};
use crate::study::{MeasureId, SectionId, Study, Treatment};
use std::collections::BTreeMap;

/// Fewer sections than this carry no figure for a treatment; they are listed singly.
const FEWEST: usize = 6;

/// The time at which half of the sections of a treatment were spent, for every treatment with sections enough.
///
/// Sections without a day of their coat or without a judgement take no part.
pub(super) fn groups(sections: &[SectionSpent]) -> Vec<GroupSpent> {
    let mut groups: BTreeMap<Treatment, Vec<Seen>> = BTreeMap::new();
    for section in sections {
        if let Some(seen) = seen(section) {
            groups.entry(section.treatment).or_default().push(seen);
        }
    }
    let days: Vec<i64> = sections.iter().flat_map(days).collect();
    // Every end of a stretch is a day of a section.
    let day = |time: f64| days.iter().copied().find(|&day| (day as f64 - time).abs() < 0.5);
    let of = |(treatment, seen): (Treatment, Vec<Seen>)| {
        let median = estimate(&seen)?.median()?;
        let half = match (median.after, median.upto) {
            (after, None) => Half::AtLeast(day(after)?),
            (after, Some(upto)) if after <= 0.0 => Half::Before(day(upto)?),
            (after, Some(upto)) => Half::Between(day(after)?, day(upto)?),
        };
        let certain = certain(&seen, day)?;
        Some(GroupSpent { treatment, sections: seen.len(), half, certain, with_gauge: None })
    };
    groups.into_iter().filter(|(_, seen)| seen.len() >= FEWEST).filter_map(of).collect()
}

/// The same at each site, in the order of the sites; empty where the measure is read at no sites.
pub(super) fn by_site(study: &Study, measure: MeasureId, sections: &[SectionSpent]) -> Vec<Vec<GroupSpent>> {
    let sites = study.by_site.as_ref().filter(|_| study.measure(measure).home.is_none());
    let pieces = sites.map(|sites| sites.pieces()).unwrap_or_default();
    let at = |own: &[SectionId]| -> Vec<SectionSpent> {
        sections.iter().filter(|one| own.contains(&one.section)).copied().collect()
    };
    pieces.iter().map(|(_, own)| groups(&at(own))).collect()
}

/// Writes into each figure what the gauge leaves open of it, from the wider times of its sections.
pub(super) fn fold(groups: &mut [GroupSpent], sections: &[SectionSpent]) {
    for group in groups {
        let own = || sections.iter().filter(|section| section.treatment == group.treatment);
        let wider = |section: &SectionSpent| match section.with_gauge {
            Some(WithGauge::When(when)) => SectionSpent { when: Ok(when), ..*section },
            _ => *section,
        };
        let wide: Vec<Seen> = own()
            .filter_map(|section| match section.with_gauge {
                // By one end it was spent before the first round, by the other it held to the last.
                Some(WithGauge::Open) => seen(section).map(|_| Seen { after: 0.0, upto: None }),
                _ => seen(&wider(section)),
            })
            .collect();
        let moved = own().any(|section| section.with_gauge.is_some());
        let days: Vec<i64> = own().flat_map(|section| days(&wider(section))).collect();
        let found = certain(&wide, |time| days.iter().copied().find(|&day| (day as f64 - time).abs() < 0.5));
        group.with_gauge = found.filter(|found| moved && *found != group.certain);
    }
}

/// What the looks themselves leave open of the time at which half of the sections were spent: between the time at which that
/// half could first have been, and the one by which it surely was.
///
/// Whatever the times within their intervals, the middle one lies between the middle beginning and the middle end. Where sections
/// are read on different days the estimate of most likelihood may sit on a sliver in which intervals happen to meet.
fn certain(seen: &[Seen], day: impl Fn(f64) -> Option<i64>) -> Option<Half> {
    let half = seen.len().div_ceil(2);
    let middle = |mut ends: Vec<f64>| {
        ends.sort_unstable_by(f64::total_cmp);
        ends.get(half.checked_sub(1)?).copied()
    };
    let after = middle(seen.iter().map(|one| one.after).collect())?;
    let upto = middle(seen.iter().map(|one| one.upto.unwrap_or(f64::INFINITY)).collect())?;
    Some(match (after, upto.is_finite()) {
        (after, false) => Half::AtLeast(if after <= 0.0 { 0 } else { day(after)? }),
        (after, true) if after <= 0.0 => Half::Before(day(upto)?),
        (after, true) => Half::Between(day(after)?, day(upto)?),
    })
}

/// The days at which a section was seen.
fn days(section: &SectionSpent) -> Vec<i64> {
    let moments = match section.when {
        Ok(Spent::Between(from, to)) => vec![from, to],
        Ok(Spent::Before(one) | Spent::AtLeast(one)) => vec![one],
        Err(_) => Vec::new(),
    };
    moments.into_iter().filter_map(|moment| moment.days).collect()
}

fn seen(section: &SectionSpent) -> Option<Seen> {
    let days = |moment: super::model::Moment| moment.days.map(|days| days as f64);
    Some(match section.when.ok()? {
        Spent::Between(from, to) => Seen { after: days(from)?, upto: Some(days(to)?) },
        Spent::Before(first) => Seen { after: 0.0, upto: Some(days(first)?.max(0.0)) },
        Spent::AtLeast(last) => Seen { after: days(last)?, upto: None },
    })
}

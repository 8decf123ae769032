//! Dates that several checks need: when coats go on, when they are dry and cured, and on which side of them a round lies.

use crate::study::{Anchor, Gauge, Placing, Product, ProductId, Round, Study, Verb};
use crate::units::{Quantity, Time};
use jiff::civil::{Date, DateTime};

pub(in crate::checks) use crate::study::later;

/// The product on the map that is coated last, and when its last coat is on; `None` where no product is.
pub(in crate::checks) fn coated(study: &Study) -> Option<(&Product, DateTime)> {
    let last = |(id, product): (ProductId, &'_ Product)| Some((id, product.broken, study.last_coat(id)?));
    let used = study.products_with_ids().filter(|&(id, _)| is_on_map(study, id));
    let sound = used.filter_map(last).filter(|&(_, broken, _)| !broken);
    // Of equal moments the first product in the file is named.
    let latest = sound.reduce(|one, other| if other.2 > one.2 { other } else { one });
    latest.map(|(id, _, at)| (study.product(id), at))
}

fn is_on_map(study: &Study, id: ProductId) -> bool {
    study.is_laid_on(id)
}

/// What a baseline is placed by: the wipe, or the application where nothing is wiped.
pub(in crate::checks) fn baseline_words(study: &Study) -> &'static str {
    if study.prep.iter().any(|step| step.verb == Verb::Wipe) { "after wipe" } else { "before apply" }
}

/// A product, and a moment that it has to wait for.
#[derive(Debug, Clone, Copy)]
pub(in crate::checks) struct Wait<'s> {
    /// The product.
    pub(in crate::checks) product: &'s Product,
    /// When its last coat is on.
    pub(in crate::checks) coated: DateTime,
    /// The time as written.
    pub(in crate::checks) time: Quantity<Time>,
    /// When it is over.
    pub(in crate::checks) over: DateTime,
}

/// When each product on the map has cured, in order of the file.
pub(in crate::checks) fn cures(study: &Study) -> Vec<Wait<'_>> {
    waits(study, |product| product.cure.as_ref().map(|cure| cure.value))
}

/// When each product on the map may get wet, in order of the file.
pub(in crate::checks) fn dries(study: &Study) -> Vec<Wait<'_>> {
    waits(study, |product| product.dry.as_ref().map(|dry| dry.value))
}

fn waits(study: &Study, time: impl Fn(&Product) -> Option<Quantity<Time>>) -> Vec<Wait<'_>> {
    let products = study.products_with_ids();
    let products = products.filter(|&(id, product)| !product.broken && is_on_map(study, id));
    let wait = |(id, product)| {
        let (time, coated) = (time(product)?, study.last_coat(id)?);
        Some(Wait { product, coated, time, over: later(coated, time)? })
    };
    products.filter_map(wait).collect()
}

/// Those that are not over on a day even at its end.
pub(in crate::checks) fn unfinished<'w>(waits: &[Wait<'w>], day: Date) -> Vec<Wait<'w>> {
    waits.iter().copied().filter(|wait| day < wait.over.date()).collect()
}

/// Whether the hour of a moment is known; midnight stands for one that is not.
pub(in crate::checks) fn has_hour(moment: DateTime) -> bool {
    moment.time() != jiff::civil::Time::midnight()
}

/// `bay` (7 days, until 2026-03-10) and `clove` (...),, the longest first, at most three.
pub(in crate::checks) fn told(waits: &[Wait<'_>]) -> String {
    told_until(waits, |over| over.date().to_string())
}

/// `bay` (12 h, until 2026-03-10 21:00) and `clove` (...), as [`told`] does.
pub(in crate::checks) fn told_by_hour(waits: &[Wait<'_>]) -> String {
    told_until(waits, minute)
}

/// A moment as day and hour.
pub(in crate::checks) fn minute(moment: DateTime) -> String {
    moment.strftime("%Y-%m-%d %H:%M").to_string()
}

fn told_until(waits: &[Wait<'_>], until: impl Fn(DateTime) -> String) -> String {
    let mut waits: Vec<&Wait<'_>> = waits.iter().collect();
    waits.sort_by_key(|wait| std::cmp::Reverse(wait.over));
    let shown = waits.iter().take(3);
    let tell = |wait: &&Wait<'_>| {
        format!("`{}` ({}, until {})", wait.product.name.value, wait.time, until(wait.over))
    };
    let mut parts: Vec<String> = shown.map(tell).collect();
    if waits.len() > 3 {
        parts.push(format!("{} more", waits.len() - 3));
    }
    crate::diag::list(&parts, "and")
}

/// True for a round that lies before the first coat, false for one after it, `None` where that is not known.
pub(in crate::checks) fn before_apply(study: &Study, round: &Round) -> Option<bool> {
    match round.placing {
        _ if round.name.value == "baseline" => Some(true),
        Placing::At(Anchor::Step(_) | Anchor::BeforeApply) => Some(true),
        Placing::At(_)
        | Placing::After(_, Anchor::FirstCoat | Anchor::LastCoat | Anchor::PutOut)
        | Placing::Cycle(_) => Some(false),
        Placing::On | Placing::After(..) | Placing::Unplaced => {
            Some(round.date()? < study.first_coat()?.date())
        }
    }
}

/// Whether a gauge has a certificate on a day; the last day of a certificate is the one before `until`.
pub(in crate::checks) fn is_certified(gauge: &Gauge, day: Date) -> bool {
    gauge.certificates.iter().any(|certificate| certificate.from <= day && day < certificate.until)
}

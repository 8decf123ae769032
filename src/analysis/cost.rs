//! What the product on a section costs, and what a square metre costs for each month held.

use super::model::{
    CostWithGauge, MeasureAnalysis, MonthlyCost, NoCost, ProductCost, SectionCost, SectionSpent, Spent,
    WithGauge,
};
use crate::study::{Mix, Outline, Product, ProductId, SectionId, Study, Treatment};
use crate::units::{DAYS_IN_MONTH, Dimension};
use std::collections::BTreeSet;

/// One for each product of the study. `held` is the measure whose time to spent counts.
pub(super) fn costs(study: &Study, held: Option<&MeasureAnalysis>) -> Vec<ProductCost> {
    study
        .products_with_ids()
        .map(|(product, about)| ProductCost { product, sections: of_product(study, product, about, held) })
        .collect()
}

fn of_product(
    study: &Study,
    product: ProductId,
    about: &Product,
    held: Option<&MeasureAnalysis>,
) -> Result<Vec<SectionCost>, NoCost> {
    let per_m2 = per_m2(about)?;
    let unit = about.price.ok_or(NoCost::NoPrice)?.money.any().unit;
    let spent = held.and_then(|measure| measure.spent.as_deref()).unwrap_or(&[]);
    let sites = bare_at_sites(study, spent);
    let of = |(section, about): (SectionId, &crate::study::Section)| {
        let area = about.outline.as_ref().map(Outline::area_m2).ok_or(NoCost::NoArea)?;
        let own = spent.iter().find(|one| one.section == section);
        let gone = own.and_then(|own| own.gone);
        let when = own.and_then(|own| own.when.ok()).filter(|_| gone.is_none());
        let per_m2_month = when.and_then(|when| monthly(per_m2, when));
        let month_with_gauge =
            own.filter(|_| when.is_some()).and_then(|own| own.with_gauge).and_then(|with| match with {
                WithGauge::When(wider) => monthly(per_m2, wider).map(CostWithGauge::Bounds),
                WithGauge::Open => Some(CostWithGauge::Open),
            });
        // What one site does to bare says nothing of another.
        let here = sites.iter().find(|(own, _)| own.contains(&section));
        let here = here.map_or(spent, |(_, bare)| bare.as_slice());
        let bare_as_long = held.zip(when).and_then(|(measure, when)| bare_as_long(measure, here, when));
        let money = per_m2 * area;
        Ok(SectionCost { section, money, unit, per_m2, per_m2_month, month_with_gauge, gone, bare_as_long })
    };
    study.sections_of(Treatment::Product(product)).map(of).collect()
}

/// The sections of each site, with when the bare ones among them were spent.
fn bare_at_sites(study: &Study, spent: &[SectionSpent]) -> Vec<(BTreeSet<SectionId>, Vec<SectionSpent>)> {
    let sites = study.by_site.as_ref().map(|sites| sites.pieces()).unwrap_or_default();
    let of = |(_, own): (&str, Vec<SectionId>)| {
        let own: BTreeSet<SectionId> = own.into_iter().collect();
        let bare = spent.iter().filter(|one| one.treatment == Treatment::Bare && own.contains(&one.section));
        let bare = bare.copied().collect();
        (own, bare)
    };
    sites.into_iter().map(of).collect()
}

/// Money for all coats on a square metre; the amount on an area is that of one coat.
fn per_m2(product: &Product) -> Result<f64, NoCost> {
    let price = product.price.ok_or(NoCost::NoPrice)?;
    let uses = product.uses_in_all().ok_or(NoCost::NoAmount)?;
    if product.each_coat().any(|coat| coat.mix.is_some_and(|mix| mix != Mix::Neat)) {
        return Err(NoCost::Mixed);
    }
    match (price.amount.unit.dimension, uses.unit.dimension) {
        (Dimension::Volume, Dimension::VolumePerArea) | (Dimension::Mass, Dimension::MassPerArea) => {}
        _ => return Err(NoCost::DifferentKinds),
    }
    let cost = price.money.any().value / price.amount.base() * uses.base();
    if cost.is_finite() { Ok(cost) } else { Err(NoCost::NoPrice) }
}

fn monthly(per_m2: f64, when: Spent) -> Option<MonthlyCost> {
    let for_days = |days: Option<i64>| {
        let months = days.filter(|&days| days > 0)? as f64 / DAYS_IN_MONTH;
        Some(per_m2 / months)
    };
    Some(match when {
        Spent::AtLeast(last) => MonthlyCost::AtMost(for_days(last.days)?),
        Spent::Before(upto) => MonthlyCost::AtLeast(for_days(upto.days)?),
        Spent::Between(after, upto) => match for_days(after.days) {
            Some(high) => MonthlyCost::Between(for_days(upto.days)?, high),
            None => MonthlyCost::AtLeast(for_days(upto.days)?),
        },
    })
}

/// Bare sections that held as long, by the last round passed that counts for their times, and how many have a time at all. A section whose
/// time counts no round passed is matched by all of them.
fn bare_as_long(measure: &MeasureAnalysis, spent: &[SectionSpent], when: Spent) -> Option<(usize, usize)> {
    // Rounds stand by date; a section that never passed one comes before all of them. To pass the reference is to have held for no time.
    let passed = |when: Spent| {
        let round = match when {
            Spent::Between(last, _) | Spent::AtLeast(last) => last.round,
            Spent::Before(_) => return None,
        };
        measure.rounds.iter().position(|at| at.round == round).filter(|_| Some(round) != measure.reference)
    };
    let bare = spent.iter().filter(|one| one.treatment == Treatment::Bare && one.gone.is_none());
    let times: Vec<Spent> = bare.filter_map(|one| one.when.ok()).collect();
    let own = passed(when);
    let as_long = times.iter().filter(|&&bare| passed(bare) >= own).count();
    (!times.is_empty()).then_some((as_long, times.len()))
}

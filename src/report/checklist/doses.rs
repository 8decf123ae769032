//! What amounts are measured with: syringes, cylinders and scales, and for what.

use super::super::safety;
use super::amounts;
use super::facts::{mix, supply};
use super::work::work;
use crate::catalog::Catalog;
use crate::study::{Product, Study};

/// A tool that measures what products take.
pub(super) struct Dosing<'s> {
    pub(super) tool: &'static str,
    pub(super) products: Vec<&'s str>,
    /// How many: one for each product and coat, since what was left in it from the coat before has begun to cure.
    pub(super) number: u32,
    /// Whether one of these products has several coats.
    pub(super) anew: bool,
    /// A scale touches no product, so that one does for all.
    pub(super) is_scale: bool,
}

/// The tools for what products take, scales first; what goes on as mist is not measured in any.
pub(super) fn of_products<'s>(study: &'s Study, catalog: &Catalog) -> Vec<Dosing<'s>> {
    let mut dosed: Vec<Dosing<'s>> = Vec::new();
    let poured = |(_, product): &(_, &Product)| !safety::goes_on_as_mist(catalog, product);
    for (id, product) in study.products_with_ids().filter(poured) {
        // Coats that differ are drawn up with what suits each of them.
        for coat in product.each_coat() {
            let Some(need) = amounts::need(study, id, std::iter::once(coat)) else { continue };
            let (tool, title) = (need.tool(), product.title());
            match dosed.iter_mut().find(|known| known.tool == tool) {
                Some(known) => {
                    known.number += 1;
                    known.anew |= known.products.contains(&title);
                    if !known.products.contains(&title) {
                        known.products.push(title);
                    }
                }
                None => dosed.push(Dosing {
                    tool,
                    products: vec![title],
                    number: 1,
                    anew: false,
                    is_scale: need.in_all_amount().1,
                }),
            }
        }
    }
    // Stable, so that tools keep the order of the products.
    dosed.sort_by_key(|own| !own.is_scale);
    dosed
}

/// Whether anything is mixed, and what measures the little that some mixes take.
pub(super) fn of_mixes(study: &Study, catalog: &Catalog) -> (bool, Vec<&'static str>) {
    let (mut mixed, mut small) = (false, Vec::new());
    for work in work(study) {
        let Some((supply, mix)) = supply(study, work.step).zip(mix(study, work.step)) else { continue };
        if let Some(Ok(batch)) = amounts::batch(catalog, study, work.step, supply, mix) {
            mixed = true;
            small.extend(batch.small_tool().filter(|tool| !small.contains(tool)));
        }
    }
    let products = study.products_with_ids();
    mixed |= products
        .into_iter()
        .any(|(id, _)| amounts::coat_mixes(catalog, study, id).iter().any(|own| own.batch.is_some()));
    (mixed, small)
}

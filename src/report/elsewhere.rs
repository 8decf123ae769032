//! Products that stand in no comparison, since by plan the measure is not read on them.

use super::asked::Place;
use super::names;
use crate::speech::{list, say};
use crate::study::{ProductId, Study, Treatment};

/// Products that the measure is not read on at all, since no patch or loose specimen of theirs is among its places.
pub(super) fn not_read_on(at: Place<'_>) -> Option<String> {
    let (study, measure) = (at.study, at.question.measure);
    let read = |product: ProductId| {
        study.places_of(measure).any(|(_, place)| place.treatment == Treatment::Product(product))
    };
    let on_panel = |product: ProductId| study.sections_of(Treatment::Product(product)).next().is_some();
    let ids: Vec<ProductId> = study.products_with_ids().map(|(id, _)| id).collect();
    let none: Vec<ProductId> = ids.into_iter().filter(|&id| on_panel(id) && !read(id)).collect();
    if none.is_empty() {
        return None;
    }
    let products = list(&names::products(study, &none), "and");
    let measure = names::measure(study, measure);
    let told = if none.len() == 1 {
        say!(
            "By plan {measure} is not read on {products}, which is in no comparison of it.",
            measure,
            products
        )
    } else {
        say!(
            "By plan {measure} is not read on {products}, which are in no comparison of it.",
            measure,
            products
        )
    };
    Some(std::iter::once(told).chain(barred(study, &none)).collect::<Vec<_>>().join(" "))
}

/// Why the study never lets some of it on these products.
fn barred(study: &Study, products: &[ProductId]) -> Vec<String> {
    let never = study.patches.iter().flat_map(|patches| &patches.never);
    let about = |text: &&String| products.iter().any(|&id| text.contains(study.product(id).title()));
    never.filter(about).cloned().collect()
}

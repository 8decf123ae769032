//! Products that stand in no comparison, since by plan the measure is not read on them.

use super::asked::Place;
use super::names;
use crate::speech::{list, say};
use crate::study::{ProductId, Treatment};

/// Products that the measure is not read on at all, since no patch or loose specimen of theirs is among its places.
fn unread(at: Place<'_>) -> Vec<ProductId> {
    let (study, measure) = (at.study, at.question.measure);
    let read = |product: ProductId| {
        study.places_of(measure).any(|(_, place)| place.treatment == Treatment::Product(product))
    };
    let on_panel = |product: ProductId| study.sections_of(Treatment::Product(product)).next().is_some();
    study.products_with_ids().map(|(id, _)| id).filter(|&id| on_panel(id) && !read(id)).collect()
}

/// The sentence that names them.
pub(super) fn not_read_on(at: Place<'_>) -> Option<String> {
    let none = unread(at);
    if none.is_empty() {
        return None;
    }
    let products = list(&names::products(at.study, &none), "and");
    let measure = names::measure(at.study, at.question.measure);
    Some(if none.len() == 1 {
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
    })
}

/// Why the study never lets some of it on these products, in its own words.
pub(super) fn why_not(at: Place<'_>) -> Option<String> {
    let products = unread(at);
    let never = at.study.patches.iter().flat_map(|patches| &patches.never);
    let about = |text: &&String| products.iter().any(|&id| text.contains(at.study.product(id).title()));
    let reasons: Vec<&str> = never.filter(about).map(String::as_str).collect();
    (!reasons.is_empty()).then(|| reasons.join(" "))
}

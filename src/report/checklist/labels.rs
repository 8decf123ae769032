//! Labels to cut out for what is mixed: whoever finds the bottle has no other paper.

use super::amounts::{coat_mixes, mix_text};
use super::facts::{mix, supply};
use super::lists::keeps;
use super::view::BottleLabel;
use super::work::work;
use crate::catalog::{Catalog, on_label};
use crate::report::safety::{self, Card};
use crate::speech::say;
use crate::study::{Mix, Study};

/// A label for each mix that is made, once.
pub(super) fn labels(study: &Study, catalog: &Catalog) -> Vec<BottleLabel> {
    let mut labels: Vec<BottleLabel> = Vec::new();
    for work in work(study) {
        let Some((supply, mix)) = supply(study, work.step).zip(mix(study, work.step)) else { continue };
        if is_mixed(mix) && !supply.is_aerosol() {
            let card = safety::of_mixed(catalog, study, supply, Some(mix));
            let own = card.map(|card| label(supply.title(), mix, keeps(supply.keeps.as_ref()), card));
            // What is mixed afresh on the day of the coats stands in a bottle of its own.
            let second = own.clone().filter(|_| work.again).map(|own| {
                let batch = say!("Second batch: once more before the first coat.").to_owned();
                BottleLabel { batch, ..own }
            });
            labels.extend(own.into_iter().chain(second));
        }
    }
    for (id, product) in study.products_with_ids() {
        for own in coat_mixes(catalog, study, id).iter().filter(|own| own.batch.is_some()) {
            let card = safety::of_product(catalog, study, product);
            labels.push(label(product.title(), &own.mix, keeps(product.keeps.as_ref()), card));
        }
    }
    let mut once: Vec<BottleLabel> = Vec::new();
    for label in labels {
        if !once.contains(&label) {
            once.push(label);
        }
    }
    once
}

fn is_mixed(mix: &Mix) -> bool {
    match mix {
        Mix::Neat => false,
        Mix::Parts { to, .. } => *to > 0.0,
        Mix::Percent(_) => true,
    }
}

fn label(name: &str, mix: &Mix, keeps: String, mut card: Card) -> BottleLabel {
    let codes: Vec<&str> = card.precautions.iter().map(|one| one.code.as_str()).collect();
    let first: Vec<String> = on_label(&codes).into_iter().map(str::to_owned).collect();
    card.precautions.retain(|one| first.contains(&one.code));
    // The statements of a label rinse for several minutes; what burns eyes and skin asks for more, and the bottle is what is at hand.
    if !card.statements.iter().any(|one| ["H314", "H318"].iter().any(|code| one.code.starts_with(code))) {
        card.first_aid.clear();
    }
    let basis = match (card.stated.is_empty(), card.known) {
        (false, _) => say!("Label of the stock, as its data sheet states it. Whether this mix carries less, only the data sheet says.").to_owned(),
        (true, true) if !card.strength.is_empty() => card.strength.join(" "),
        (true, true) => say!("Label of the stock, the usual one of its class. Whether this mix carries less, only its data sheet says.").to_owned(),
        (true, false) => card.unknown_line.clone(),
    };
    BottleLabel { name: name.to_owned(), mix: mix_text(mix), keeps, batch: String::new(), basis, card }
}

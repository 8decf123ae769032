//! The step of the sections that get the carrier alone: it is told even where the study leaves open which liquid that is.

use super::super::safety::{self, Entry};
use super::lines::heads;
use super::steps::section_list;
use super::view::StepView;
use crate::catalog::Catalog;
use crate::speech::say;
use crate::study::Study;

/// More sections than this have no box each.
const BOXES: usize = 12;

/// Putting the carrier on, or `None` where nothing carries it or a step of the preparation puts it on.
pub(super) fn step(study: &Study, catalog: &Catalog, number: usize) -> Option<StepView> {
    let codes: Vec<&str> =
        study.carrier_to_lay_on().into_iter().map(|id| study.section(id).code.as_str()).collect();
    let of = study.carrier_of().map(|id| study.product(id).title());
    let which = match of {
        Some(product) => say!(
            "the liquid of {product}, without the product; what liquid that is is not stated: write it down",
            product
        ),
        None => say!(
            "not stated: the liquid of the product that these sections are compared with, without the product; write it down"
        )
        .to_owned(),
    };
    let sections = section_list(&codes);
    let title = match of {
        Some(product) => say!("Put the carrier of {product} alone on {sections}", product, sections),
        None => say!("Put the carrier alone on {sections}", sections),
    };
    let facts = [
        (say!("Which"), which.as_str()),
        (
            say!("How"),
            say!(
                "as often, as much and with the same tool as that product, and wiped off as that is, with an applicator and cloth of its own"
            ),
        ),
        (
            say!("Safety"),
            say!(
                "the liquid alone is often more dangerous than the product: its own data sheet is read first"
            ),
        ),
    ];
    (!codes.is_empty()).then(|| StepView {
        number,
        title,
        why: say!("What it changes by itself is then known, and not taken for the product.").into(),
        facts: facts.into_iter().map(|(label, text)| Entry::new(label, text)).collect(),
        cautions: Vec::new(),
        prose: String::new(),
        boxes: if codes.len() > BOXES {
            Vec::new()
        } else {
            codes.iter().map(|&code| code.to_owned()).collect()
        },
        signed: false,
        fields: Vec::new(),
        blanks: heads(&[say!("date"), say!("time"), say!("liquid, batch"), say!("used"), say!("initials")]),
        writing: 1,
        rows: Vec::new(),
        cards: vec![safety::of_carrier(catalog, study)],
    })
}

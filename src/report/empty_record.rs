//! The empty record: a row for each step of the preparation and each coat, with the columns of the checklist's blanks.

use super::checklist::degrees;
use crate::study::{Product, Study, Treatment, Verb};
use crate::units::Dimension;

/// A table to fill in while the work is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EmptyRecord {
    /// Its headings.
    pub headings: Vec<String>,
    /// Step and what of each row. All else is blank, the sections too: then it is every one that the plan means.
    pub rows: Vec<[String; 2]>,
}

/// Makes the empty record of a study, in the order of the checklist.
pub fn empty_record(study: &Study) -> EmptyRecord {
    let degrees = degrees(study);
    let used = used(study).map_or_else(|| "used".to_owned(), |unit| format!("used {unit}"));
    let headings = ["step", "what", "section", "before round", "date", "time", "off at"].map(str::to_owned);
    let measured = [used, format!("air {degrees}"), "humidity %".to_owned(), format!("surface {degrees}")];
    let headings =
        headings.into_iter().chain(measured).chain(["initials", "note"].map(str::to_owned)).collect();
    let steps = study.prep.iter().enumerate().filter(|(_, step)| step.verb != Verb::Read);
    let steps = steps.map(|(at, step)| [(at + 1).to_string(), step.verb.word().to_owned()]);
    let placed = study
        .products_with_ids()
        .filter(|(id, _)| study.sections_of(Treatment::Product(*id)).next().is_some());
    let mut coats: Vec<_> = placed
        .flat_map(|(id, product)| {
            (1..=product.coats_number()).map(move |number| {
                let what = format!("coat {number} of {}", product.name.value);
                (study.coat_at(id, number), [String::new(), what])
            })
        })
        .collect();
    coats.sort_by_key(|(at, _)| *at);
    EmptyRecord { headings, rows: steps.chain(coats.into_iter().map(|(_, row)| row)).collect() }
}

/// The unit of what is used, where all products have one; else it is written behind each number.
fn used(study: &Study) -> Option<&'static str> {
    let rates = || study.products.iter().flat_map(Product::each_coat).filter_map(|coat| coat.uses);
    let mass = rates().all(|uses| uses.unit.dimension == Dimension::MassPerArea);
    let volume = rates().all(|uses| uses.unit.dimension != Dimension::MassPerArea);
    match (rates().next()?, mass, volume) {
        (_, true, false) => Some("g"),
        (_, false, true) => Some("ml"),
        _ => None,
    }
}

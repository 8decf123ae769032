//! The empty record: a row for each step of the preparation and each coat, with the columns of the checklist's blanks.

use super::checklist::{degrees, title};
use crate::speech::{Language, speak};
use crate::study::{Product, RecordColumn, Step, Study, Treatment, Verb};
use crate::units::Dimension;

/// A table to fill in while the work is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EmptyRecord {
    /// Its headings.
    pub headings: Vec<String>,
    /// Step and what of each row. All else is blank, the sections too: then it is every one that the plan means.
    pub rows: Vec<[String; 2]>,
}

/// Makes the empty record of a study, in the order of the checklist and in the words of the language of the study.
pub fn empty_record(study: &Study) -> EmptyRecord {
    let _speech = speak(study.language);
    let degrees = degrees(study);
    let headings = RecordColumn::ALL.into_iter().map(|column| {
        let unit = match column {
            RecordColumn::Used => used(study),
            RecordColumn::Air | RecordColumn::Surface => Some(degrees),
            RecordColumn::Humidity => Some("%"),
            _ => None,
        };
        unit.map_or_else(|| column.heading(), |unit| format!("{} {unit}", column.heading()))
    });
    let steps = study.prep.iter().enumerate().filter(|(_, step)| step.verb != Verb::Read);
    let steps = steps.map(|(at, step)| [(at + 1).to_string(), step_words(study, step)]);
    let placed = study
        .products_with_ids()
        .filter(|(id, _)| study.sections_of(Treatment::Product(*id)).next().is_some());
    let mut coats: Vec<_> = placed
        .flat_map(|(id, product)| {
            (1..=product.coats_number()).map(move |number| {
                let name =
                    if study.language == Language::English { &product.name.value } else { product.title() };
                (study.coat_at(id, number), [String::new(), Study::coat_words(number, name)])
            })
        })
        .collect();
    coats.sort_by_key(|(at, _)| *at);
    EmptyRecord {
        headings: headings.collect(),
        rows: steps.chain(coats.into_iter().map(|(_, row)| row)).collect(),
    }
}

/// A step by its word in the study; in another language as the checklist has it.
fn step_words(study: &Study, step: &Step) -> String {
    if study.language == Language::English { step.verb.word().to_owned() } else { title(study, step) }
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

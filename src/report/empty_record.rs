//! The empty record: a row for each step of the preparation and each coat, with the columns of the checklist's blanks.

use super::checklist::{degrees, title};
use crate::hands::planned;
use crate::speech::{Language, round_name, say, speak};
use crate::study::{Product, RecordColumn, SpecimensId, Step, Study, Upkeep, Verb};
use crate::units::Dimension;
use jiff::civil::Date;

/// A table to fill in while the work is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EmptyRecord {
    /// Its headings.
    pub headings: Vec<String>,
    /// Step, what, where and before which round of each row. All else is blank. A row without sections means every one that the
    /// plan means, the specimens that carry a product among them.
    pub rows: Vec<[String; 4]>,
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
    let steps = study.preparations().flat_map(|set| of_prep(study, set));
    let placed = study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let planned = &planned(study);
    let mut coats: Vec<_> = placed
        .flat_map(|(id, product)| {
            (1..=product.coats_number()).map(move |number| {
                let name =
                    if study.language == Language::English { &product.name.value } else { product.title() };
                let what = Study::coat_words(number, name);
                (planned.coat_at(id, number), [String::new(), what, String::new(), String::new()])
            })
        })
        .collect();
    coats.sort_by_key(|(at, _)| *at);
    EmptyRecord {
        headings: headings.collect(),
        rows: steps.chain(coats.into_iter().map(|(_, row)| row)).chain(care(study)).collect(),
    }
}

/// The preparation of the panel, or of a set of specimens, whose name stands where sections do.
fn of_prep(study: &Study, set: Option<SpecimensId>) -> impl Iterator<Item = [String; 4]> {
    let place = set.map_or_else(String::new, |set| study.specimens[set.index()].name.value.clone());
    let steps = study.prep_of(set).iter().enumerate().filter(|(_, step)| step.verb != Verb::Read);
    steps.map(move |(at, step)| [(at + 1).to_string(), step_words(study, step), place.clone(), String::new()])
}

/// What is done before each round and as upkeep, in the order of its days. Upkeep has a row for each planned day, and one where
/// the days are not known or are more than a list holds.
fn care(study: &Study) -> Vec<[String; 4]> {
    let row =
        |step: &Step, round: &str| [String::new(), step_words(study, step), String::new(), round.to_owned()];
    let mut rows: Vec<(Option<Date>, [String; 4])> = Vec::new();
    for round in study.rounds.iter().filter(|round| round.is_cared_for()) {
        let steps = study.before_each_round.iter().filter(|step| step.verb != Verb::Read);
        rows.extend(steps.map(|step| (round.date(), row(step, &round_name(&round.name.value)))));
    }
    for upkeep in &study.upkeep {
        let Upkeep::Every { step, .. } = upkeep else { continue };
        let mut days: Vec<Option<Date>> = study.upkeep_days(upkeep).into_iter().map(Some).collect();
        if days.is_empty() || days.len() > MOST_UPKEEP {
            days = vec![None];
        }
        rows.extend(days.into_iter().map(|day| (day, row(step, say!("upkeep")))));
    }
    // What has no day stands last; the sort is stable, so that steps keep their order.
    rows.sort_by_key(|(day, _)| (day.is_none(), *day));
    rows.into_iter().map(|(_, row)| row).collect()
}

/// More rows of upkeep than this are not printed; whoever washes daily adds them.
const MOST_UPKEEP: usize = 60;

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

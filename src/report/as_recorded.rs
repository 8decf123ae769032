//! What is on record of the work and what is told by the plan alone: who put the products on, and which coats missed their window.

use super::checklist::section_list;
use super::material::Material;
use super::{names, numbers, prepared};
use crate::speech::{count, list, say};
use crate::study::{CoatGap, ProductId, Study, Treatment};
use std::collections::BTreeSet;

/// How much of the work is on record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Kept {
    steps: (usize, usize),
    /// Products of which every coat is on record, of those on the panel.
    coats: (usize, usize),
}

fn kept(material: &Material<'_>) -> Kept {
    let study = material.study;
    let laid = || study.products_with_ids().filter(|(id, _)| study.is_laid_on(*id));
    let has = |id: ProductId, number: u32| study.done.iter().any(|done| done.coat() == Some((number, id)));
    let whole = laid().filter(|(id, product)| (1..=product.coats_number()).all(|number| has(*id, number)));
    Kept { steps: prepared::recorded(material), coats: (whole.count(), laid().count()) }
}

/// Whether the work lies behind what is read, so that a record of it could be there.
fn is_over(material: &Material<'_>) -> bool {
    material.analysis.shown().is_some()
}

/// Whether nothing at all of preparation and application is on record, though what came of it has been read.
pub(super) fn nothing(material: &Material<'_>) -> bool {
    let some = material.study.done.iter().any(crate::study::Done::is_of_work);
    is_over(material) && !some && kept(material).steps.0 == 0
}

/// The line below the answer where nothing is on record.
pub(super) fn beside_answer(material: &Material<'_>) -> Option<String> {
    nothing(material).then(|| {
        say!("No step and no coat is on record: how the products went on is told by the plan alone.")
            .to_owned()
    })
}

/// What the record lets nobody say.
pub(super) fn limits(material: &Material<'_>) -> Vec<String> {
    let study = material.study;
    let kept = kept(material);
    let all = kept.steps.0 == kept.steps.1 && kept.coats.0 == kept.coats.1;
    let record = if !is_over(material) || all {
        None
    } else if nothing(material) {
        Some(say!(
            "Nothing of the work is on record, no step of the preparation ({steps}) and no coat: whether, when and by whom it was done as planned \
             cannot be said.",
            steps = count(kept.steps.1, "step")
        ))
    } else {
        Some(say!(
            "On record are {recorded} of {steps} of the preparation and all coats of {products}; whether the rest was done as planned cannot be said.",
            recorded = kept.steps.0,
            steps = count(kept.steps.1, "step"),
            products = names::of_products(kept.coats.0, kept.coats.1)
        ))
    };
    let slips = study.products_with_ids().filter_map(|(id, _)| {
        let slips = coats_outside(study, id);
        (!slips.is_empty()).then(|| format!("{} ({})", names::product(study, id), slips.join(", ")))
    });
    let slips: Vec<String> = slips.collect();
    let slips = (!slips.is_empty()).then(|| {
        say!(
            "Put on outside the window of a coat: {slips}. What such sections show is of the product and of that slip, and the two cannot be \
             told apart.",
            slips = list(&slips, "and")
        )
    });
    record.into_iter().chain(slips).chain([chance_and_eyes(study).to_owned()]).collect()
}

/// Whether chance dealt the products out, and whether whoever read knew what lay where, as far as the study file says.
fn chance_and_eyes(study: &Study) -> &'static str {
    if study.dealing.placed.is_some() {
        say!(
            "The study file says that products were dealt to sections by chance (Method, Layout). It does not say whether those who read knew what lay where."
        )
    } else {
        say!(
            "The study file does not say whether products were dealt to sections by chance or placed by hand, nor whether those who read knew what lay where."
        )
    }
}

/// The coats of a product that the record has outside their window, each with the time between; one text where sections are alike.
pub(super) fn coats_outside(study: &Study, id: ProductId) -> Vec<String> {
    let all = study.sections_of(Treatment::Product(id)).count();
    let mut told: Vec<String> = Vec::new();
    for gap in study.coat_gaps().filter(|gap| gap.product == id) {
        let text = gap_words(study, &gap, all);
        if !told.contains(&text) {
            told.push(text);
        }
    }
    told
}

fn gap_words(study: &Study, gap: &CoatGap<'_>, all: usize) -> String {
    let time = match (gap.exact, gap.late) {
        (true, _) => gap.hours(),
        (false, true) => say!("at least {time}", time = gap.hours()),
        (false, false) => say!("at most {time}", time = gap.hours()),
    };
    let (number, before, window) = (gap.number, gap.number - 1, numbers::amount(&gap.window));
    let some = !gap.done.sections.is_empty() && gap.done.sections.len() < all;
    let codes: Vec<&str> = gap.done.sections.iter().map(|&id| names::section(study, id)).collect();
    let on = if some { say!(" on {sections}", sections = section_list(&codes)) } else { String::new() };
    if gap.late {
        say!(
            "coat {number}{on} put on {time} after coat {before}, too late: {window} was asked",
            number,
            on,
            time,
            before,
            window
        )
    } else {
        say!(
            "coat {number}{on} put on {time} after coat {before}, too soon: {window} was asked",
            number,
            on,
            time,
            before,
            window
        )
    }
}

/// Who put the products on and who read, as the records and the rows name them; what only the plan names is said to be of the plan.
pub(super) fn hands(material: &Material<'_>) -> String {
    let study = material.study;
    let coats = || study.done.iter().filter(|done| done.coat().is_some());
    let recorded: BTreeSet<&str> = coats().filter_map(|done| done.by.as_deref()).collect();
    let planned: BTreeSet<&str> = study.apply.iter().filter_map(|apply| apply.by.as_deref()).collect();
    let laid = || study.products_with_ids().map(|(id, _)| id).filter(|id| study.is_laid_on(*id));
    let is_named = |id: &ProductId| {
        coats().any(|done| done.by.is_some() && done.coat().is_some_and(|(_, of)| of == *id))
    };
    let (named, all) = (laid().filter(is_named).count(), laid().count());
    let readings = material.readings;
    let note = if recorded.is_empty() {
        say!("; by the plan, no record says so").to_owned()
    } else if named < all {
        say!("; by the record of {products}", products = names::of_products(named, all))
    } else {
        String::new()
    };
    let applied = if recorded.is_empty() { planned } else { recorded };
    let read: BTreeSet<&str> = readings.cells().iter().flat_map(|cell| readings.read_by(cell)).collect();
    let unnamed = readings.cells().iter().any(|cell| readings.runs(cell).any(|reading| reading.by.is_none()));
    let read_by = match (read.len(), unnamed) {
        (0, _) => None,
        (_, true) => Some(say!("{read}, and in part by people who are not named", read = people(&read, ""))),
        (_, false) => Some(people(&read, "")),
    };
    let put_on_by = people(&applied, &note);
    match (applied.is_empty(), read_by) {
        (false, Some(_)) if applied == read && !unnamed && note.is_empty() => {
            say!("The products were put on and read by {read}.", read = put_on_by)
        }
        (false, Some(read_by)) => {
            say!(
                "The products were put on by {applied}; readings were taken by {read_by}.",
                read_by,
                applied = put_on_by
            )
        }
        (false, None) if readings.is_empty() => {
            say!("The products go on by {applied}.", applied = people(&applied, ""))
        }
        (false, None) => {
            say!("The products were put on by {applied}; who read is not said.", applied = put_on_by)
        }
        (true, Some(read_by)) => {
            say!("Who put the products on is not said; readings were taken by {read_by}.", read_by)
        }
        (true, None) if readings.is_empty() => say!("Who puts the products on is not said.").to_owned(),
        (true, None) => say!("Who put the products on and who read is not said.").to_owned(),
    }
}

/// `one person (K. D.)`, `2 people (K. D. and L. M.)`, with what is added in the brackets.
fn people(names: &BTreeSet<&str>, note: &str) -> String {
    let all: Vec<&str> = names.iter().copied().collect();
    let names = format!("{}{note}", list(&all, "and"));
    if all.len() == 1 {
        return say!("one person ({name})", name = names);
    }
    say!("{n} people ({names})", n = all.len(), names)
}

//! The checklist as a view: what must be there, what must not meet, and every step with its box.

mod amounts;
mod apart;
mod application;
mod carrier;
mod climate;
mod cycles;
mod doses;
mod edges;
mod facts;
mod film;
mod filters;
mod kit;
mod labels;
mod lines;
mod lists;
mod own_tools;
mod places;
mod pulls;
mod read;
mod rounds;
mod shopping;
mod steps;
mod tape;
mod upkeep;
mod view;
mod work;
mod zones;

pub(super) use amounts::{mix_text, need};
pub(super) use application::stays_bare;
pub(super) use climate::degrees;
pub(super) use cycles::{begins as cycle_begins, ends as cycles_end};
pub(super) use facts::{About, facts, title, verb};
pub(super) use filters::of_run as filter_of_run;
pub(super) use lines::UNNAMED as UNNAMED_PLACES;
pub(super) use places::{at_round, bring_in_title, put_out_title};
pub(super) use pulls::is_pulled;
pub(super) use read::{kind_of_place, stop_words};
pub(super) use rounds::{after_prep, at_sites};
pub(super) use steps::{only_on, section_list};
pub(super) use tape::bare_tape;
pub use view::{
    BottleLabel, Bought, ChecklistView, ClimateView, Coldest, Group, Mixing, Shopping, StepView, Thing,
};

use super::map_picture::map_picture;
use super::material::Material;
use super::numbers;
use super::safety::{self, Entry};
use crate::catalog::Catalog;
use crate::speech::{said, say, speak};
use crate::study::{Study, Verb};

/// Makes the checklist.
pub fn checklist(material: &Material<'_>) -> ChecklistView {
    let _speech = speak(material.study.language);
    let (study, catalog) = (material.study, material.catalog);
    let shopping = shopping::shopping(study, catalog);
    ChecklistView {
        study: study.title.value.clone(),
        head: head(study),
        as_of: material.as_of(),
        version: material.version.to_owned(),
        meetings: safety::meetings(catalog, study),
        lines: top(study, catalog).into_iter().chain(into_record(study)).collect(),
        materials: lists::materials(study, &shopping.rows),
        mixes: lists::mixes(study, catalog),
        shopping,
        mix_notes: mix_notes(catalog),
        tools: lists::tools(study, catalog),
        protection: lists::protection(study, catalog),
        groups: with_map(material, groups(study, catalog)),
        labels: labels::labels(study, catalog),
    }
}

/// Where what is written on the day goes.
fn into_record(study: &Study) -> Option<String> {
    let record = study.records.first()?;
    Some(say!(
        "What is written on these lines goes into {file}, one row for each step or coat: its columns have the names of the \
         blanks, “{on}” stands in “{time}”, and a step of the preparation has its number.",
        file = record.name.value,
        on = say!("laid on at"),
        time = say!("time")
    ))
}

fn groups(study: &Study, catalog: &Catalog) -> Vec<Group> {
    let first = std::iter::once(steps::preparation(study, catalog));
    let first = first.chain(steps::of_specimens(study, catalog));
    let then = [
        read::baseline(study, catalog),
        application::application(study, catalog),
        places::put_out(study, catalog),
        steps::cycle(study, catalog),
        rounds::rounds(study, catalog),
        steps::before_rounds(study, catalog),
        upkeep::upkeep(study, catalog),
        places::end(study, catalog),
    ];
    first.chain(then).filter(|group| !group.steps.is_empty() || !group.lines.is_empty()).collect()
}

/// The groups with the map where it is worked by: before the tape, else before the labels, else before the baseline, else where the
/// coats go on.
fn with_map(material: &Material<'_>, mut groups: Vec<Group>) -> Vec<Group> {
    let picture = map_picture(material);
    let (taped, labelled) = (map_step(material.study, Verb::Tape), map_step(material.study, Verb::Label));
    // A baseline whose own picture shows its patches has room for no other.
    let is_free = |group: &Group| group.title == say!("Baseline readings") && group.picture.is_none();
    let (title, before) = match taped.or(labelled) {
        Some(number) => (say!("Preparation"), number),
        None if edges::are_told_at_baseline(material.study) && groups.iter().any(is_free) => {
            (say!("Baseline readings"), 0)
        }
        None => (say!("Application"), 0),
    };
    let is_drawn = material.study.sections.iter().any(|section| section.outline.is_some());
    if let Some(group) = groups.iter_mut().find(|group| is_drawn && group.title == title) {
        (group.picture, group.shown_before) = (Some(picture), before);
    }
    groups
}

/// The number of the first step of the preparation that does something by the map.
fn map_step(study: &Study, verb: Verb) -> Option<usize> {
    study.prep.iter().position(|step| step.verb == verb).map(|at| at + 1)
}

fn mix_notes(catalog: &Catalog) -> Vec<String> {
    let assumed = say!(
        "A line is one batch, for one time of its step or for one coat; what is mixed again on a later day has its day and time on its label. \
         Where the study says what an area takes, a batch holds what the surface takes and a tenth more, rounded up. Elsewhere it is 1 l or \
         1 kg, and for a wash with soap a bucket of 10 l; ten times as much where that would take less than 1 ml of stock. A batch of another \
         size is mixed in the same proportion. The shopping list counts as many batches as stand under “{head}”.",
        head = say!("For")
    );
    let lines = catalog.lines().iter().filter(|line| line.when == "mixed");
    let lines = lines.map(|line| said(line.text).to_owned());
    std::iter::once(assumed).chain(lines).collect()
}

fn head(study: &Study) -> Vec<Entry> {
    let surface = &study.surface;
    let panel = [Some(surface.name.value.clone()), surface.material.as_ref().map(|m| m.value.clone())];
    let panel: Vec<String> = panel.into_iter().flatten().filter(|text| !text.is_empty()).collect();
    let mut head = Vec::new();
    if let Some(author) = &study.author {
        head.push(Entry::new(say!("By"), author));
    }
    if !panel.is_empty() {
        head.push(Entry::new(say!("Panel"), panel.join(", ")));
    }
    if let Some(begins) = &study.begins {
        head.push(Entry::new(say!("Begins"), numbers::day(begins.value)));
    }
    head
}

// Oily rags catch fire by themselves, so their line stands at the top as well as in the boxes.
fn top(study: &Study, catalog: &Catalog) -> Vec<String> {
    let kinds =
        study.supplies.iter().map(|s| s.kind.as_ref()).chain(study.products.iter().map(|p| p.kind.as_ref()));
    let oily = kinds.filter_map(|kind| kind?.class).any(|class| class.is_in("drying-oil"));
    let always =
        catalog.lines().iter().filter(|line| line.when == "always" || (oily && line.id == "oily-rags"));
    safety::unknown_ground(catalog, study)
        .into_iter()
        .chain(always.map(|line| said(line.text).to_owned()))
        .collect()
}

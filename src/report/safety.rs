//! The box beside a chemical step: label, protection, first aid, waste and cautions of its class, with the source.

use crate::catalog::{Catalog, Class, Danger, Isopropanol, Reach};
use crate::study::{KindOf, Mix, Product, Sheet, Step, Study, Supply};
use crate::units::{Dimension, decimal};
use serde::Serialize;

/// A statement with its code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Coded {
    /// `H225`, `P210`, `GHS02`.
    pub code: String,
    /// Its wording.
    pub text: String,
}

/// A few words and what belongs to them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// The words.
    pub label: String,
    /// What belongs to them.
    pub text: String,
}

impl Entry {
    /// An entry from anything that is text.
    pub fn new(label: impl Into<String>, text: impl Into<String>) -> Self {
        Self { label: label.into(), text: text.into() }
    }
}

/// A sentence and where it comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sourced {
    /// The sentence.
    pub text: String,
    /// Its source.
    pub source: String,
}

/// The safety box of one thing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Card {
    /// The thing and its class: `rust-gel, an iron remover`.
    pub title: String,
    /// False where the class is not stated; then the box says only that.
    pub known: bool,
    /// The line for a class that is not stated.
    pub unknown_line: String,
    /// `Danger`, `Warning` or empty.
    pub signal: String,
    /// Codes and names of its pictograms.
    pub pictograms: Vec<Coded>,
    /// What is said about a strength; empty where the class has none.
    pub strength: String,
    /// Hazard statements.
    pub statements: Vec<Coded>,
    /// Precautionary statements.
    pub precautions: Vec<Coded>,
    /// Gloves, eyes, breathing, air, first aid, waste, storage.
    pub handling: Vec<Entry>,
    /// Cautions of the class.
    pub cautions: Vec<String>,
    /// Lines that its reactivity calls for, each with a source of its own.
    pub called: Vec<Sourced>,
    /// What shifts the label.
    pub note: String,
    /// Where label and handling come from.
    pub source: String,
    /// The data sheet of the thing, or that none is named.
    pub sheet: String,
}

/// Two things of the study that must not meet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Meeting {
    /// The two things with their classes.
    pub things: String,
    /// What happens.
    pub result: String,
    /// Where it counts.
    pub place: String,
    /// Source of the pair.
    pub source: String,
}

/// The box of a step with a supply.
pub(super) fn of_step(catalog: &Catalog, study: &Study, step: &Step) -> Option<Card> {
    let Some(with) = &step.with else {
        let verb = catalog.step(step.verb.word())?;
        let asks = step.broken || verb.needs_supply == crate::catalog::Need::Always;
        return asks.then(|| unknown(catalog, "what this step is done with", None));
    };
    let supply = study.supply(with.value);
    let mix = step.mix.as_ref().or(supply.mix.as_ref()).map(|mix| &mix.value);
    match class_of(supply.kind.as_ref()) {
        Some(class) if class.id == "water" => None,
        Some(class) => {
            let mut card = known(catalog, class, &supply.name.value, supply.sheet.as_ref());
            if class.id == "isopropanol" {
                by_strength(catalog, &mut card, strength(catalog, mix, supply));
            }
            Some(card)
        }
        None => Some(unknown(catalog, &supply.name.value, supply.sheet.as_ref())),
    }
}

/// The box of an application.
pub(super) fn of_product(catalog: &Catalog, product: &Product) -> Card {
    match class_of(product.kind.as_ref()) {
        Some(class) => known(catalog, class, product.title(), product.sheet.as_ref()),
        None => unknown(catalog, product.title(), product.sheet.as_ref()),
    }
}

fn class_of(kind: Option<&KindOf>) -> Option<&'static Class> {
    kind.and_then(|kind| kind.class)
}

fn unknown(catalog: &Catalog, name: &str, sheet: Option<&Sheet>) -> Card {
    let line = catalog
        .line("unknown-class")
        .map_or("class not stated: follow the product's data sheet; do not start without it", |line| {
            line.text
        });
    Card {
        title: name.to_owned(),
        known: false,
        unknown_line: line.to_owned(),
        signal: String::new(),
        pictograms: Vec::new(),
        strength: String::new(),
        statements: Vec::new(),
        precautions: Vec::new(),
        handling: Vec::new(),
        cautions: Vec::new(),
        called: Vec::new(),
        note: String::new(),
        source: String::new(),
        sheet: sheet_line(sheet),
    }
}

fn known(catalog: &Catalog, class: &Class, name: &str, sheet: Option<&Sheet>) -> Card {
    let hazards = &class.hazards;
    let called = catalog.lines_for(class).into_iter();
    let called =
        called.map(|line| Sourced { text: line.text.to_owned(), source: line.source.to_string() }).collect();
    Card {
        title: format!("{name}: {}", class.name),
        known: true,
        unknown_line: String::new(),
        signal: hazards.signal.word().to_owned(),
        pictograms: pictograms(catalog, &hazards.pictograms),
        strength: String::new(),
        statements: statements(catalog, &hazards.statements),
        precautions: precautions(catalog, &hazards.precautions),
        handling: handling(class),
        cautions: class.handling.cautions.iter().map(|&c| c.to_owned()).collect(),
        called,
        note: hazards.note.to_owned(),
        source: sources(class),
        sheet: sheet_line(sheet),
    }
}

fn pictograms(catalog: &Catalog, codes: &[&'static str]) -> Vec<Coded> {
    let name = |code: &str| catalog.pictogram(code).map_or("", |pictogram| pictogram.name);
    codes.iter().map(|&code| coded(code, name(code))).collect()
}

fn statements(catalog: &Catalog, codes: &[&'static str]) -> Vec<Coded> {
    let text = |code: &str| catalog.hazard(code).map_or("", |hazard| hazard.text);
    codes.iter().map(|&code| coded(code, text(code))).collect()
}

fn precautions(catalog: &Catalog, codes: &[&'static str]) -> Vec<Coded> {
    let text = |code: &str| catalog.precaution(code).map_or("", |precaution| precaution.text);
    codes.iter().map(|&code| coded(code, text(code))).collect()
}

fn coded(code: &str, text: &str) -> Coded {
    Coded { code: code.to_owned(), text: text.to_owned() }
}

fn handling(class: &Class) -> Vec<Entry> {
    let handling = &class.handling;
    let entries = [
        ("Gloves", handling.gloves),
        ("Eyes", handling.eyes),
        ("Breathing", handling.breathing),
        ("Air", handling.ventilation),
        ("First aid", handling.first_aid),
        ("Waste", handling.waste),
        ("Keep", handling.storage),
    ];
    entries
        .into_iter()
        .map(|(label, text)| Entry::new(label, format!("{}.", text.trim_end_matches('.'))))
        .collect()
}

fn sources(class: &Class) -> String {
    let (label, handling) = (class.hazards.source.as_str(), class.handling.source.as_str());
    if label == handling { label.to_owned() } else { format!("label: {label}; handling: {handling}") }
}

fn sheet_line(sheet: Option<&Sheet>) -> String {
    match sheet {
        Some(Sheet { name, dated: Some(date) }) => {
            format!("Follow the product's data sheet: {name}, {date}.")
        }
        Some(Sheet { name, dated: None }) => format!("Follow the product's data sheet: {name}."),
        None => {
            "Follow the product's data sheet; the study names none. Get it before work starts.".to_owned()
        }
    }
}

// The strength in percent by volume that a step works with, if it can be told.
fn strength(catalog: &Catalog, mix: Option<&Mix>, supply: &Supply) -> Option<f64> {
    let bought = supply.strength.and_then(|any| by_volume(catalog, any));
    match mix {
        None | Some(Mix::Neat) => bought,
        Some(Mix::Percent(any)) => by_volume(catalog, *any),
        // The stock counts as neat alcohol where its strength is not said, which errs on the strict side.
        Some(Mix::Parts { of, to, .. }) => Some(bought.unwrap_or(100.0) * of / (of + to)),
    }
}

/// Isopropanol in percent by volume; by mass to by volume is the rule of the catalog turned round.
pub(super) fn by_volume(catalog: &Catalog, any: crate::units::AnyQuantity) -> Option<f64> {
    match any.unit.dimension {
        Dimension::PercentVolume => Some(any.value),
        Dimension::PercentMass => {
            let rule = &catalog.isopropanol()?.mass;
            let water = any.value * rule.density_water_g_per_ml;
            let alcohol = (100.0 - any.value) * rule.density_isopropanol_g_per_ml;
            Some(100.0 * water / (water + alcohol))
        }
        _ => None,
    }
}

fn by_strength(catalog: &Catalog, card: &mut Card, percent: Option<f64>) {
    let Some(at) = percent.and_then(|percent| catalog.isopropanol_at(percent)) else {
        "Strength not stated: this is the label of the neat alcohol.".clone_into(&mut card.strength);
        return;
    };
    at.signal.word().clone_into(&mut card.signal);
    card.pictograms = pictograms(catalog, &at.pictograms);
    card.statements = statements(catalog, &at.statements);
    card.precautions = precautions(catalog, &at.precautions);
    card.strength = strength_line(&at);
    card.note = String::new();
    card.source =
        format!("strength and flash point: {}, {}; borders: {}", at.sources[0], at.sources[1], at.sources[2]);
}

fn strength_line(at: &Isopropanol) -> String {
    let percent = decimal((at.percent_by_volume * 10.0).round() / 10.0);
    let mass = decimal(at.percent_by_mass.round());
    let flash = at.flash_deg_c.map(|flash| {
        let how = if at.modelled { " by a model, not measured" } else { "" };
        format!("Flash point about {} degC{how}.", decimal(flash.round()))
    });
    let border =
        at.near_border.then(|| "A class border is near, so the more severe statement is printed.".to_owned());
    let strength = format!("{percent} % by volume is about {mass} % by mass.");
    [Some(strength), flash, border].into_iter().flatten().collect::<Vec<String>>().join(" ")
}

/// Every pair of things in the study that makes toxic gas, fire or burns where they meet.
pub(super) fn meetings(catalog: &Catalog, study: &Study) -> Vec<Meeting> {
    let supplies = study.supplies.iter().map(|s| (s.name.value.as_str(), class_of(s.kind.as_ref())));
    let products = study.products.iter().map(|p| (p.title(), class_of(p.kind.as_ref())));
    let things: Vec<(&str, &Class)> = supplies.chain(products).filter_map(|(n, c)| Some((n, c?))).collect();
    // Products of one class would fill the box with the same sentence, so classes are listed once.
    let mut classes: Vec<(&Class, Vec<&str>)> = Vec::new();
    for (name, class) in things {
        match classes.iter_mut().find(|(known, _)| known.id == class.id) {
            Some((_, names)) => names.push(name),
            None => classes.push((class, vec![name])),
        }
    }
    let pairs = classes
        .iter()
        .enumerate()
        .flat_map(|(at, one)| classes[at + 1..].iter().map(move |other| (one, other)));
    pairs.flat_map(|(one, other)| meeting(catalog, one, other)).collect()
}

fn meeting(catalog: &Catalog, one: &(&Class, Vec<&str>), other: &(&Class, Vec<&str>)) -> Vec<Meeting> {
    let named =
        |thing: &(&Class, Vec<&str>)| format!("{} ({})", crate::diag::list(&thing.1, "or"), thing.0.name);
    let all = catalog.meetings(one.0, other.0).into_iter().filter(|pair| pair.severity == Danger::Forbid);
    all.map(|pair| Meeting {
        things: format!("{} with {}", named(one), named(other)),
        result: pair.result.to_owned(),
        place: match pair.reach {
            Reach::Any => "On a section, tool, bucket, drain or in the waste: a full rinse between, always.",
            Reach::Vessel => "Never in one bucket, bottle, cloth or bin.",
        }
        .to_owned(),
        source: pair.source.to_string(),
    })
    .collect()
}

//! The card of one thing: label, protection, what never to mix, limits in air, first aid, waste, with the sources.

use super::super::numbers;
use super::entry::{Coded, Entry, Sourced};
use crate::catalog::{Catalog, Class, Danger, Fire, Handling, Hazard, Pair, Precaution, Signal, Surface};
use crate::speech::{list, said, say};
use crate::study::{Sheet, StatedLabel, UNDER_PRESSURE};
use serde::Serialize;

/// The safety card of one thing.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Card {
    /// The thing and its class: `rust-gel: iron remover`; the class alone where the card is that of several.
    pub title: String,
    /// The name of the class; empty where it is not stated.
    pub class: String,
    /// The pack, where its label was put beside that of the content: `spray can`; empty elsewhere.
    pub pack: String,
    /// False where the class is not stated; then the card says only that.
    pub known: bool,
    /// The line for a class that is not stated.
    pub unknown_line: String,
    /// `Danger`, `Warning` or empty.
    pub signal: String,
    /// Codes and names of its pictograms.
    pub pictograms: Vec<Coded>,
    /// Hazard classes with their categories.
    pub categories: Vec<String>,
    /// That the label is the one which the data sheet states; empty where it is the usual one of the class.
    pub stated: String,
    /// What is said about its strength; empty where the label does not go by it.
    pub strength: Vec<String>,
    /// Hazard statements.
    pub statements: Vec<Coded>,
    /// Precautionary statements.
    pub precautions: Vec<Coded>,
    /// Gloves, eyes, clothing of what burns, breathing, air.
    pub protection: Vec<Entry>,
    /// First aid, in a line.
    pub first_aid: String,
    /// Flash point.
    pub flash: String,
    /// Exposure limits in air.
    pub limits: Vec<Sourced>,
    /// What it must never meet, and what happens there.
    pub never: Vec<Entry>,
    /// What spoils the test with it, in one vessel.
    pub spoils: Vec<Entry>,
    /// Bare materials that it attacks.
    pub attacks: Vec<Entry>,
    /// Cautions of the class.
    pub cautions: Vec<String>,
    /// Lines that its reactivity calls for, each with a source of its own.
    pub called: Vec<Sourced>,
    /// Storage and waste.
    pub after: Vec<Entry>,
    /// What shifts the label.
    pub note: String,
    /// Where label, handling, flash point and pairs come from.
    pub source: String,
    /// The data sheet of the thing, or that none is named.
    pub sheet: String,
    /// The things that it is the card of; on the page of cards only.
    pub things: Vec<Carded>,
    /// What governs above the card.
    pub governs: String,
}

/// A thing of a card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Carded {
    /// Its name.
    pub name: String,
    /// Where the study uses it; empty where it does not.
    pub used: String,
    /// Its data sheet, or that none is named.
    pub sheet: String,
}

/// The codes of a label.
#[derive(Debug, Clone, Copy)]
pub(super) struct Label<'a> {
    pub(super) signal: Signal,
    pub(super) pictograms: &'a [&'static str],
    pub(super) statements: &'a [&'static str],
    /// True where first aid has a treatment of its own.
    pub(super) specific: bool,
}

/// The card of a thing whose class is not stated, with the label of its data sheet where the study gives that.
pub(super) fn unknown(catalog: &Catalog, name: &str, sheet: Option<&Sheet>) -> Card {
    Card {
        title: name.to_owned(),
        unknown_line: line(catalog, "unknown-class"),
        after: vec![Entry::new(say!("Waste"), say!("section 13 of its data sheet."))],
        sheet: sheet_line(sheet),
        governs: line(catalog, "card-governs"),
        ..Card::default()
    }
}

fn line(catalog: &Catalog, id: &str) -> String {
    catalog.line(id).map_or_else(String::new, |line| said(line.text).to_owned())
}

/// The card of a thing of a class, with the label of its usual strength.
pub(super) fn known(catalog: &Catalog, class: &Class, name: &str, sheet: Option<&Sheet>) -> Card {
    let (hazards, handling, called) = (&class.hazards, &class.handling, said(class.name));
    let lines = catalog.lines_for(class).into_iter();
    let mut card = Card {
        class: called.to_owned(),
        title: if name == called { name.to_owned() } else { format!("{name}: {called}") },
        known: true,
        protection: protection(catalog, handling),
        first_aid: stopped(handling.first_aid),
        flash: class
            .fire
            .as_ref()
            .map_or_else(|| say!("not usual for this class; the data sheet governs.").to_owned(), flash),
        limits: limits(catalog, class),
        never: meets(catalog, class, Danger::Forbid),
        spoils: meets(catalog, class, Danger::Spoil),
        attacks: attacks(catalog, class),
        cautions: handling
            .cautions
            .iter()
            .chain(&handling.buffing)
            .chain(&handling.pouring)
            .chain(&handling.diluting)
            .chain(&handling.film)
            .map(|&one| said(one).to_owned())
            .collect(),
        called: lines.map(|line| Sourced::of(line.text, line.source)).collect(),
        after: entries(&[(say!("Keep"), handling.storage), (say!("Waste"), handling.waste)]),
        note: said(hazards.note).to_owned(),
        source: sources(catalog, class),
        sheet: sheet_line(sheet),
        governs: line(catalog, "card-governs"),
        ..Card::default()
    };
    let label = Label {
        signal: hazards.signal,
        pictograms: &hazards.pictograms,
        statements: &hazards.statements,
        specific: class.has_own_treatment(),
    };
    put_label(catalog, &mut card, label);
    card
}

/// Puts the hazards that the data sheet states in place of those of the class.
pub(super) fn put_stated(catalog: &Catalog, card: &mut Card, stated: &StatedLabel, sheet: Option<&Sheet>) {
    let known: Vec<_> = stated.hazards.iter().filter_map(|code| catalog.hazard(code)).collect();
    let signal = known.iter().map(|hazard| hazard.signal).max().unwrap_or(Signal::None);
    said(signal.word()).clone_into(&mut card.signal);
    card.pictograms = pictograms(catalog, &stated.hazards);
    let text = |code: &String| catalog.hazard(code).map_or("", |hazard| said(hazard.text)).to_owned();
    let one = |code: &String| Coded { code: code.clone(), text: text(code) };
    card.statements = stated.hazards.iter().map(one).collect();
    let printed = |code: &String| {
        let words: Vec<&str> = catalog.words_of_precaution(code).into_iter().map(said).collect();
        if words.is_empty() { say!("as the data sheet words it.").to_owned() } else { words.join(" ") }
    };
    let one = |code: &String| Coded { code: code.clone(), text: printed(code) };
    card.precautions = stated.precautions.iter().map(one).collect();
    card.categories = categories(&known);
    card.stated = stated_line(stated, sheet);
    card.first_aid = first_aid(catalog, &known, &card.first_aid);
    // The usual flash point of the class is that of another liquid than the one with this label.
    say!("as the data sheet says.").clone_into(&mut card.flash);
    // What shifts the usual label of the class says nothing of this product.
    card.note = String::new();
}

/// The signs of these statements, without those that others displace.
pub(super) fn pictograms(catalog: &Catalog, hazards: &[String]) -> Vec<Coded> {
    let known = hazards.iter().filter_map(|code| catalog.hazard(code)?.pictogram);
    let mut signs: Vec<&str> = known.collect();
    signs.sort_unstable();
    signs.dedup();
    let name = |code: &str| catalog.pictogram(code).map_or("", |pictogram| pictogram.name);
    coded(&displaced(hazards, signs), name)
}

/// The hazard classes of these statements. Every aerosol carries H229, so the category is told by the other statement,
/// where there is one.
pub(super) fn categories(hazards: &[&Hazard]) -> Vec<String> {
    let told = hazards.iter().any(|hazard| ["H222", "H223"].contains(&hazard.code));
    let named = hazards.iter().filter(|hazard| !(told && hazard.code == UNDER_PRESSURE));
    named.map(|hazard| said(hazard.category).to_owned()).filter(|text| !text.is_empty()).collect()
}

/// What helps first against the stated hazards, as the UN GHS (Annex 3) words it, before what is usual for the class.
fn first_aid(catalog: &Catalog, stated: &[&Hazard], usual: &str) -> String {
    let codes: Vec<&str> = stated.iter().map(|hazard| hazard.code).collect();
    let answers = catalog.precautions_of(&codes, false).into_iter().filter(|code| FIRST_AID.contains(code));
    let mut told: Vec<&str> =
        answers.filter_map(|code| catalog.precaution(code)).map(Precaution::printed).map(said).collect();
    if !usual.is_empty() {
        told.push(usual);
    }
    told.join(" ")
}

/// Statements that say what to do when somebody is hurt.
const FIRST_AID: &[&str] = &[
    "P301+P316",
    "P301+P317",
    "P301+P330+P331",
    "P302+P352",
    "P302+P361+P354",
    "P304+P340",
    "P305+P351+P338",
    "P305+P354+P338",
    "P316",
    "P330",
    "P331",
    "P332+P317",
    "P333+P317",
    "P337+P317",
    "P342+P316",
];

fn stated_line(stated: &StatedLabel, sheet: Option<&Sheet>) -> String {
    let from = match sheet {
        Some(Sheet { name, dated: Some(date) }) => {
            say!("the data sheet {name} of {date}", name, date = numbers::day(*date))
        }
        Some(Sheet { name, dated: None }) => say!("the data sheet {name}", name),
        None => say!("the study, which names no data sheet").to_owned(),
    };
    let none = if stated.hazards.is_empty() { say!(" It states no hazard; the sheet governs.") } else { "" };
    let more =
        if stated.precautions.is_empty() { say!(" Precautions: as the sheet lists them.") } else { "" };
    say!("Label as stated by {from}, in place of the usual one of its class.{none}{more}", from, none, more)
}

// CLP Article 26: the skull displaces the exclamation mark of harm, the corrosion sign that of irritation, and the
// health hazard of H334 that of skin allergy and irritation.
fn displaced<'a>(hazards: &[String], mut pictograms: Vec<&'a str>) -> Vec<&'a str> {
    let has = |code: &str| hazards.iter().any(|own| own == code);
    let skull = pictograms.contains(&"GHS06");
    let burns = pictograms.contains(&"GHS05") && (has("H314") || has("H318"));
    let stands = |code: &str| match code {
        "H302" | "H312" | "H332" => !skull,
        "H315" | "H319" => !burns && !has("H334"),
        "H317" => !has("H334"),
        "H335" | "H336" | "H420" => true,
        _ => false,
    };
    if !hazards.iter().any(|code| stands(code)) {
        pictograms.retain(|code| *code != "GHS07");
    }
    pictograms
}

/// Leaves out cautions of a class that do not hold of what the card is of.
pub(super) fn leave_out(card: &mut Card, cautions: &[&str]) {
    card.cautions.retain(|own| !cautions.iter().any(|&of| said(of) == own));
}

fn protection(catalog: &Catalog, handling: &Handling) -> Vec<Entry> {
    let asked = [
        (say!("Gloves"), handling.gloves, "nothing-special"),
        (say!("Eyes"), handling.eyes, "nothing-special"),
        (say!("Breathing"), handling.breathing, "nothing-to-breathe"),
        (say!("Ventilation"), handling.ventilation, "nothing-special"),
    ];
    let told = |(label, text, else_line): (&str, Option<&str>, &str)| {
        Entry::new(label, text.map_or_else(|| stopped(&line(catalog, else_line)), stopped))
    };
    asked.into_iter().map(told).collect()
}

/// Puts the mask that the work asks for in place of the usual one of the class.
pub(super) fn breathe(card: &mut Card, mask: Option<&str>) {
    let entry = card.protection.iter_mut().find(|entry| entry.label == say!("Breathing"));
    if let Some((entry, mask)) = entry.zip(mask) {
        entry.text = stopped(mask);
    }
}

/// Puts gloves and goggles against burns before those of a milder class. Where no class is stated, the rest of what protects is told
/// to be on the data sheet, so that no part of it seems to be all.
pub(super) fn guard(catalog: &Catalog, card: &mut Card, against: [Entry; 2]) {
    let mut own: Vec<Entry> = std::mem::take(&mut card.protection);
    let mut take = |label: &str| {
        let at = own.iter().position(|entry| entry.label == label)?;
        Some(own.remove(at))
    };
    for entry in against {
        let usual = take(&entry.label).map_or_else(String::new, |usual| {
            let words = say!("Usual for its class: {protection}", protection = usual.text);
            format!(" {words}")
        });
        card.protection.push(Entry::new(entry.label, format!("{}.{usual}", entry.text)));
    }
    for (label, else_line) in
        [(say!("Breathing"), "nothing-to-breathe"), (say!("Ventilation"), "nothing-special")]
    {
        let entry = take(label).unwrap_or_else(|| Entry::new(label, stopped(&line(catalog, else_line))));
        card.protection.push(entry);
    }
}

/// Puts what covers the body behind what covers the eyes.
pub(super) fn clothe(card: &mut Card, clothing: &Entry) {
    let eyes = card.protection.iter().position(|entry| entry.label == say!("Eyes"));
    let at = eyes.map_or(card.protection.len(), |eyes| eyes + 1);
    card.protection.insert(at, Entry::new(clothing.label.clone(), format!("{}.", clothing.text)));
}

/// Parts dust that a drying oil is in from the other, before what holds of that only.
pub(super) fn part_oily(card: &mut Card, where_it_goes: &str) {
    for entry in &mut card.after {
        if entry.label == say!("Keep") {
            say!("Keep, what is not oily").clone_into(&mut entry.label);
        } else if entry.label == say!("Waste") {
            say!("Waste, what is not oily").clone_into(&mut entry.label);
        }
    }
    card.after.insert(0, Entry::new(say!("Oily dust"), stopped(where_it_goes)));
}

/// Writes a label onto a card.
pub(super) fn put_label(catalog: &Catalog, card: &mut Card, label: Label<'_>) {
    said(label.signal.word()).clone_into(&mut card.signal);
    let name = |code: &str| catalog.pictogram(code).map_or("", |pictogram| pictogram.name);
    let hazard = |code: &str| catalog.hazard(code).map_or("", |hazard| hazard.text);
    card.pictograms = coded(label.pictograms, name);
    card.statements = coded(label.statements, hazard);
    card.precautions = coded_precautions(catalog, &catalog.precautions_of(label.statements, label.specific));
    let known: Vec<_> = label.statements.iter().filter_map(|code| catalog.hazard(code)).collect();
    card.categories = categories(&known);
}

/// Precautions with their words.
pub(super) fn coded_precautions(catalog: &Catalog, codes: &[&str]) -> Vec<Coded> {
    coded(codes, |code| catalog.precaution(code).map_or("", Precaution::printed))
}

fn coded<'a>(codes: &[&str], text: impl Fn(&str) -> &'a str) -> Vec<Coded> {
    let one = |&code: &&str| Coded { code: code.to_owned(), text: said(text(code)).to_owned() };
    codes.iter().map(one).collect()
}

fn entries(of: &[(&str, &str)]) -> Vec<Entry> {
    of.iter().map(|&(label, text)| Entry::new(label, stopped(text))).collect()
}

fn stopped(text: &str) -> String {
    format!("{}.", said(text).trim_end_matches('.'))
}

fn flash(fire: &Fire) -> String {
    let (low, high) = (numbers::decimal(fire.flash_min_deg_c), numbers::decimal(fire.flash_max_deg_c));
    let range = if low == high { low } else { say!("{low} to {high}", low, high) };
    format!("{} {}", say!("about {range} °C.", range), said(fire.note)).trim_end().to_owned()
}

fn limits(catalog: &Catalog, class: &Class) -> Vec<Sourced> {
    let told = |limit: &crate::catalog::Limit| {
        let substance = said(limit.substance);
        let [rel, pel, idlh] = [limit.rel, limit.pel, limit.idlh].map(said);
        say!("{substance}: NIOSH {rel}; OSHA {pel}; IDLH {idlh}.", substance, rel, pel, idlh)
    };
    let limits = catalog.limits_of(class).into_iter();
    let source = |limit: &crate::catalog::Limit| said(limit.source.as_str()).to_owned();
    limits.map(|limit| Sourced { text: told(limit), source: source(limit) }).collect()
}

// Pairs of a class, seen from its side. Two pairs with one other group are one meeting, and the file has the
// gravest first.
fn pairs<'a>(catalog: &'a Catalog, class: &Class, danger: Danger) -> Vec<(&'a str, &'a Pair)> {
    let mut met: Vec<(&str, &Pair)> = Vec::new();
    for pair in catalog.pairs().iter().filter(|pair| pair.severity == danger) {
        for (own, other) in [(pair.a, pair.b), (pair.b, pair.a)] {
            let new = !met.iter().any(|(known, _)| *known == other);
            if new && class.is_in(own) {
                met.push((other, pair));
            }
        }
    }
    met
}

fn meets(catalog: &Catalog, class: &Class, danger: Danger) -> Vec<Entry> {
    let meaning = |id: &str| {
        let group = catalog.groups().iter().find(|group| group.id == id);
        group.map_or_else(|| id.to_owned(), |group| said(group.meaning).to_owned())
    };
    let met = pairs(catalog, class, danger).into_iter();
    met.map(|(other, pair)| Entry::new(meaning(other), said(pair.result))).collect()
}

/// Names beside each group of what must not meet the card's thing those things of the study that belong to it.
pub(super) fn name_own(catalog: &Catalog, card: &mut Card, things: &[(&str, &Class)]) {
    let class = card.class.clone();
    for entry in &mut card.never {
        let Some(group) = catalog.groups().iter().find(|group| said(group.meaning) == entry.label) else {
            continue;
        };
        let own = things.iter().filter(|(_, other)| said(other.name) != class && other.is_in(group.id));
        let own: Vec<&str> = own.map(|(name, _)| *name).collect();
        if !own.is_empty() {
            let own = list(&own, "and");
            entry.label = say!("{group} (here: {own})", group = entry.label, own);
        }
    }
}

fn attacks(catalog: &Catalog, class: &Class) -> Vec<Entry> {
    let harms =
        |surface: &Surface| surface.harms(class).map(|harm| said(harm.result)).collect::<Vec<_>>().join(" ");
    let told = catalog.surfaces().iter().map(|surface| Entry::new(said(surface.id), harms(surface)));
    told.filter(|entry| !entry.text.is_empty()).collect()
}

fn sources(catalog: &Catalog, class: &Class) -> String {
    let mut told = vec![
        (say!("label"), class.hazards.source),
        (say!("protection, first aid, waste"), class.handling.source),
    ];
    told.extend(class.fire.as_ref().map(|fire| (say!("flash point"), fire.source)));
    let met = pairs(catalog, class, Danger::Forbid).into_iter();
    told.extend(met.map(|(_, pair)| (say!("never with"), pair.source)));
    // Each source once, with everything that it stands behind, and what stands on several sources once.
    let mut once: Vec<(Vec<&str>, &str)> = Vec::new();
    for (what, source) in told {
        let source = said(source.as_str());
        match once.iter_mut().find(|(_, known)| *known == source) {
            Some((whats, _)) if whats.contains(&what) => {}
            Some((whats, _)) => whats.push(what),
            None => once.push((vec![what], source)),
        }
    }
    let mut words: Vec<(Vec<&str>, Vec<&str>)> = Vec::new();
    for (whats, source) in once {
        match words.iter_mut().find(|(known, _)| *known == whats) {
            Some((_, sources)) => sources.push(source),
            None => words.push((whats, vec![source])),
        }
    }
    let words =
        words.into_iter().map(|(whats, sources)| format!("{}: {}", whats.join(", "), sources.join("; ")));
    words.collect::<Vec<String>>().join(". ")
}

fn sheet_line(sheet: Option<&Sheet>) -> String {
    match sheet {
        Some(Sheet { name, dated: Some(date) }) => {
            say!("Follow the product's data sheet: {name}, {date}.", name, date = numbers::day(*date))
        }
        Some(Sheet { name, dated: None }) => say!("Follow the product's data sheet: {name}.", name),
        None => say!("Follow the product's data sheet; the study names none. Get it before work starts.")
            .to_owned(),
    }
}

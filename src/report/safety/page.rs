//! The page of cards: one card for each chemical of the study, and the cautions of the work with their sources.

use super::card::{self, Card, Carded};
use super::cautions::{dust_between, dust_mask, of_application, of_place, of_reading, of_work, oily_dust};
use super::entry::Sourced;
use super::meetings::{Meeting, meetings, things};
use super::packed::in_pack;
use super::strength::mix_line;
use crate::catalog::{Catalog, Caution, same_name};
use crate::report::material::Material;
use crate::speech::{list, said, say, speak};
use crate::study::{Mix, Product, ProductId, Step, Study, Supply, SupplyId, Treatment, Upkeep};
use serde::Serialize;

/// The page of safety cards.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SafetyView {
    /// Title of the study.
    pub study: String,
    /// The day of the page: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
    /// What always holds.
    pub lines: Vec<String>,
    /// Things that must never meet.
    pub meetings: Vec<Meeting>,
    /// A card for each chemical.
    pub cards: Vec<Card>,
    /// Cautions of the work that this study asks for.
    pub cautions: Vec<Sourced>,
}

/// Makes the page of cards.
pub fn safety(material: &Material<'_>) -> SafetyView {
    let _speech = speak(material.study.language);
    let (study, catalog) = (material.study, material.catalog);
    let always = catalog
        .lines()
        .iter()
        .filter(|line| (line.when == "always" || line.when == "cards") && line.id != "poison-centre");
    SafetyView {
        study: study.title.value.clone(),
        as_of: material.as_of(),
        version: material.version.to_owned(),
        lines: always.map(|line| said(line.text).to_owned()).collect(),
        meetings: meetings(catalog, study),
        cards: cards(catalog, study),
        cautions: cautions(catalog, study),
    }
}

/// A line for each chemical: its names, its label, and whether the data sheet or the class gives that.
pub(in crate::report) fn labels(catalog: &Catalog, study: &Study) -> Vec<String> {
    let told = |card: &Card| {
        let names: Vec<&str> = card.things.iter().map(|thing| thing.name.as_str()).collect();
        let codes: Vec<&str> = card.statements.iter().map(|statement| statement.code.as_str()).collect();
        let label = [card.signal.clone(), codes.join(", ")];
        let label: Vec<String> = label.into_iter().filter(|words| !words.is_empty()).collect();
        let label = if label.is_empty() { say!("no statement").to_owned() } else { label.join("; ") };
        let names = list(&names, "and");
        let class = if card.pack.is_empty() { card.class.clone() } else { in_pack(&card.class) };
        match (card.stated.is_empty(), card.known) {
            (false, _) => format!("{names}: {label}. {}", card.stated),
            (true, true) if card.statements.is_empty() => {
                say!("{names}: no statement is usual for {class}. {note}", names, class, note = card.note)
            }
            (true, true) => {
                say!("{names}: {label}. Usual for {class}; the data sheet governs.", names, label, class)
            }
            (true, false) => format!("{names}: {}.", card.unknown_line),
        }
    };
    cards(catalog, study).iter().map(told).collect()
}

/// A step and what it is called on paper.
fn steps(study: &Study) -> Vec<(String, &Step)> {
    let prep = study.prep.iter().enumerate().map(|(at, step)| (say!("preparation {n}", n = at + 1), step));
    let loose = study.specimens.iter().flat_map(|set| set.prep.iter().map(move |step| (set, step)));
    let loose = loose.map(|(set, step)| (say!("preparation of {set}", set = set.name.value), step));
    let before = study.before_each_round.iter().map(|step| (say!("before each round").to_owned(), step));
    let cycle = study.cycle_steps().map(|step| (say!("each cycle").to_owned(), step));
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some((say!("upkeep").to_owned(), step.as_ref())),
        Upkeep::None(_) => None,
    });
    prep.chain(loose).chain(before).chain(cycle).chain(upkeep).collect()
}

fn cards(catalog: &Catalog, study: &Study) -> Vec<Card> {
    let supplies = study.supplies.iter().enumerate();
    let supplies = supplies.filter_map(|(at, supply)| supply_card(catalog, study, SupplyId::new(at), supply));
    let products = study.products_with_ids().map(|(id, product)| {
        of(super::of_product(catalog, study, product), product.title(), product_use(study, id))
    });
    merged(supplies.chain(products).chain(raised(catalog, study)))
}

fn of(card: Card, name: &str, used: String) -> Card {
    let thing = Carded { name: name.to_owned(), used, sheet: card.sheet.clone() };
    Card { things: vec![thing], ..card }
}

// Things of one class with one label share a card, which names each of them with its data sheet.
fn merged(cards: impl Iterator<Item = Card>) -> Vec<Card> {
    let mut kept: Vec<Card> = Vec::new();
    for card in cards {
        let bare = |card: &Card| Card {
            title: String::new(),
            sheet: String::new(),
            things: Vec::new(),
            ..card.clone()
        };
        match kept.iter_mut().find(|known| card.known && bare(known) == bare(&card)) {
            Some(known) => {
                known.title.clone_from(&card.class);
                if !card.pack.is_empty() {
                    known.title = in_pack(&card.class);
                }
                known.things.extend(card.things);
            }
            None => kept.push(card),
        }
    }
    kept
}

fn supply_card(catalog: &Catalog, study: &Study, id: SupplyId, supply: &Supply) -> Option<Card> {
    let all = steps(study);
    let uses: Vec<&(String, &Step)> =
        all.iter().filter(|(_, step)| step.with.as_ref().is_some_and(|with| with.value == id)).collect();
    let mut card = super::of_supply(catalog, supply, None, &mixes(catalog, supply, &uses))?;
    if study.film().is_none() {
        card::leave_out(
            &mut card,
            supply.kind.as_ref().and_then(|kind| kind.class).map_or(&[], |class| &class.handling.film),
        );
    }
    card::name_own(catalog, &mut card, &things(study));
    let mixed = mixed_into(study, supply);
    let places = uses.iter().map(|(place, _)| place.as_str()).chain(mixed.iter().map(String::as_str));
    Some(of(card, supply.title(), place_list(places)))
}

/// The products that a supply is the other part of.
fn mixed_into(study: &Study, supply: &Supply) -> Vec<String> {
    let is_part = |mix: &Mix| match mix {
        Mix::Parts { liquid, .. } => {
            same_name(liquid, &supply.name.value) || same_name(liquid, supply.title())
        }
        Mix::Neat | Mix::Percent(_) => false,
    };
    let mixed = study
        .products
        .iter()
        .filter(|own| own.each_coat().any(|coat| coat.mix.as_ref().is_some_and(is_part)));
    mixed.map(|own| say!("mixed into {product}", product = own.title())).collect()
}

// The card stands for the stock; whoever uses a mix of it finds the label of the mix as a line.
fn mixes(catalog: &Catalog, supply: &Supply, uses: &[&(String, &Step)]) -> Vec<String> {
    let alcohol =
        supply.kind.as_ref().and_then(|kind| kind.class).is_some_and(|class| class.id == "isopropanol");
    let mixed = uses.iter().filter_map(|(_, step)| step.mix.as_ref().or(supply.mix.as_ref()));
    let mixed = mixed.map(|mix| &mix.value).filter(|mix| alcohol && **mix != Mix::Neat);
    once(mixed.filter_map(|mix| mix_line(catalog, supply, mix)))
}

fn product_use(study: &Study, id: ProductId) -> String {
    let codes: Vec<&str> = study.carriers_of(Treatment::Product(id)).map(|(_, s)| s.code.as_str()).collect();
    if codes.is_empty() {
        return String::new();
    }
    say!("application on {sections}", sections = list(&codes, "and"))
}

// Dust is bought by nobody, and has its card all the same.
fn raised(catalog: &Catalog, study: &Study) -> Vec<Card> {
    let mut cards: Vec<Card> = Vec::new();
    for class in catalog.classes() {
        let all = steps(study);
        let raises = |step: &Step| {
            catalog.step(step.verb.word()).is_some_and(|known| known.raises.contains(&class.id))
        };
        let between = study
            .products
            .iter()
            .filter(|own| dust_between(catalog, study, own).is_some_and(|dust| dust.id == class.id));
        let between: Vec<&Product> = between.collect();
        let is_oil = |own: &Product| {
            own.kind.as_ref().and_then(|kind| kind.class).is_some_and(|of| of.is_in("drying-oil"))
        };
        let oily = between.iter().any(|own| is_oil(own));
        let between: Vec<String> =
            between.iter().map(|own| say!("between the coats of {product}", product = own.title())).collect();
        let places = all.iter().filter(|(_, step)| raises(step)).map(|(place, _)| place.as_str());
        let places: Vec<&str> = places.chain(between.iter().map(String::as_str)).collect();
        if !places.is_empty() {
            let name = said(class.name);
            let mut card = card::known(catalog, class, name, None);
            card::breathe(&mut card, dust_mask(catalog, study, class));
            if oily {
                card::part_oily(&mut card, oily_dust());
            }
            say!("Follow the data sheets of the pad, the abrasive and the coating that is abraded.")
                .clone_into(&mut card.sheet);
            cards.push(of(card, name, place_list(places.into_iter())));
        }
    }
    cards
}

// `preparation 1 and 4, upkeep`: the word stands once before its numbers.
fn place_list<'a>(places: impl Iterator<Item = &'a str>) -> String {
    let mut words: Vec<(&str, Vec<&str>)> = Vec::new();
    for place in places {
        let (word, number) = match place.rsplit_once(' ') {
            Some((word, number)) if number.bytes().all(|byte| byte.is_ascii_digit()) => (word, Some(number)),
            _ => (place, None),
        };
        match words.iter_mut().find(|(known, _)| *known == word) {
            Some((_, numbers)) => numbers.extend(number),
            None => words.push((word, number.into_iter().collect())),
        }
    }
    let told = words.into_iter().map(|(word, numbers)| {
        if numbers.is_empty() { word.to_owned() } else { format!("{word} {}", list(&numbers, "and")) }
    });
    told.collect::<Vec<String>>().join(", ")
}

fn cautions(catalog: &Catalog, study: &Study) -> Vec<Sourced> {
    let place = super::place(study);
    let work = steps(study).into_iter().flat_map(|(_, step)| of_work(catalog, study, step));
    let there = of_place(catalog, study, &place);
    let products = study.products.iter().flat_map(|product| of_application(catalog, study, product, true));
    let read = study.rounds.iter().flat_map(|round| &round.reads);
    let readings = read.flat_map(|read| of_reading(catalog, study, read.measure.value));
    let arising: Vec<&Caution> = work.chain(there).chain(products).chain(readings).collect();
    let arises = |caution: &&Caution| arising.iter().any(|one| one.id == caution.id);
    let told = catalog.cautions().iter().filter(arises);
    let told = told.map(|caution| Sourced::of(caution.text, caution.source));
    // What catches fire by itself is a caution of the work as much as of what it is done with.
    let rags = catalog
        .line("oily-rags")
        .filter(|line| things(study).iter().any(|(_, class)| class.is_in(line.when)));
    rags.map(|line| Sourced::of(line.text, line.source)).into_iter().chain(told).collect()
}

fn once(lines: impl Iterator<Item = String>) -> Vec<String> {
    let mut known: Vec<String> = Vec::new();
    for line in lines {
        if !known.contains(&line) {
            known.push(line);
        }
    }
    known
}

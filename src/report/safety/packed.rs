//! The card of a spray can: the label of the pack stands beside that of what is in it.

use super::card::{Card, categories, coded_precautions, leave_out, pictograms};
use super::entry::{Coded, Entry, Sourced};
use crate::catalog::{Catalog, Class, Packing, Signal};
use crate::speech::{said, say};
use crate::study::{StatedLabel, UNDER_PRESSURE};

/// Puts the label, the cautions, the storage and the waste of a spray can onto the card of its content. A label that the data
/// sheet states keeps every statement that it has.
pub(super) fn put_aerosol(
    catalog: &Catalog,
    card: &mut Card,
    class: Option<&Class>,
    stated: Option<&StatedLabel>,
) {
    let Some(pack) = catalog.aerosol() else { return };
    // Nobody opens, pours or mixes a can.
    if let Some(class) = class {
        leave_out(card, &class.handling.pouring);
        leave_out(card, &class.handling.diluting);
    }
    protect(card, pack, class);
    if !card.statements.iter().any(|statement| statement.code == UNDER_PRESSURE) {
        put_label(catalog, card, pack, stated);
        said(pack.called).clone_into(&mut card.pack);
        card.title = in_pack(&card.title);
    }
    if stated.is_none() {
        card.strength.push(said(pack.note).to_owned());
    }
    said(pack.flash).clone_into(&mut card.flash);
    card.called.push(Sourced::of(pack.caution, pack.source));
    for (label, text) in [(say!("Keep"), said(pack.keep)), (say!("Waste"), said(pack.waste))] {
        match card.after.iter_mut().find(|entry| entry.label == label) {
            Some(entry) => entry.text = format!("{text} {}", entry.text),
            None => card.after.push(Entry::new(label, text)),
        }
    }
    if !card.source.is_empty() {
        card.source = format!("{}: {}. {}", said(pack.called), said(pack.source.as_str()), card.source);
    }
}

/// What a card is called where the thing is in a spray can, the one pack that there is.
pub(super) fn in_pack(title: &str) -> String {
    say!("{title}, in a spray can", title)
}

/// A can, as a spray gun, makes mist whatever is in it, so that its goggles and its filter stand before what the content asks for.
pub(super) fn protect(card: &mut Card, pack: &Packing, class: Option<&Class>) {
    let handling = class.map(|class| &class.handling);
    let eyes = (say!("Eyes"), Some(pack.eyes), handling.and_then(|own| own.eyes));
    let breathing = (say!("Breathing"), pack.breathing_with(class), handling.and_then(|own| own.breathing));
    for (label, of_pack, of_content) in [eyes, breathing] {
        let Some(of_pack) = of_pack else { continue };
        let beyond = of_content.filter(|own| !covers(of_pack, own));
        let content = beyond.map_or_else(String::new, |own| {
            let words = say!("Its content asks for: {protection}.", protection = said(own));
            format!(" {words}")
        });
        let text = format!("{}.{content}", said(of_pack));
        match card.protection.iter_mut().find(|entry| entry.label == label) {
            Some(entry) => entry.text = text,
            None => card.protection.push(Entry::new(label, text)),
        }
    }
}

/// What the pack asks for begins with the same words, or is a filter of the same type (EN 14387).
fn covers(of_pack: &str, of_content: &str) -> bool {
    let filter = |text: &str| {
        let (_, after) = text.split_once("(type ")?;
        Some(after.split([',', ')', ' ']).next().unwrap_or_default().to_owned())
    };
    of_pack.starts_with(of_content) || filter(of_content).is_some_and(|own| filter(of_pack) == Some(own))
}

fn put_label(catalog: &Catalog, card: &mut Card, pack: &Packing, stated: Option<&StatedLabel>) {
    if stated.is_none() {
        card.statements.retain(|statement| !pack.displaced.contains(&statement.code.as_str()));
        // What belonged to a displaced statement alone, as a cap that closes tightly, says nothing of a can, and a milder
        // precaution may stand again.
        let codes: Vec<&str> = card.statements.iter().map(|statement| statement.code.as_str()).collect();
        let specific = card.precautions.iter().any(|one| one.code == "P321");
        card.precautions = coded_precautions(catalog, &catalog.precautions_of(&codes, specific));
    }
    let text = |code: &str| catalog.hazard(code).map_or("", |hazard| said(hazard.text));
    let own =
        pack.statements.iter().map(|&code| Coded { code: code.to_owned(), text: text(code).to_owned() });
    card.statements = own.chain(card.statements.drain(..)).collect();
    let known = |code: &&&str| card.precautions.iter().any(|one| one.code == **code);
    let more: Vec<&str> = pack.precautions.iter().filter(|code| !known(code)).copied().collect();
    card.precautions.extend(coded_precautions(catalog, &more));
    card.precautions.sort_by(|a, b| a.code.cmp(&b.code));
    let codes: Vec<String> = card.statements.iter().map(|statement| statement.code.clone()).collect();
    let known: Vec<_> = codes.iter().filter_map(|code| catalog.hazard(code)).collect();
    let signal = known.iter().map(|hazard| hazard.signal).max().unwrap_or(Signal::None);
    said(signal.word()).clone_into(&mut card.signal);
    card.pictograms = pictograms(catalog, &codes);
    card.categories = categories(&known);
}

//! Safety beside the work and on cards: labels, protection, first aid, cautions and what must never meet, with the source.

mod burns;
mod card;
mod cautions;
mod entry;
mod meetings;
mod packed;
mod page;
mod strength;

pub use card::{Card, Carded};
pub use entry::{Coded, Entry, Sourced};
pub use meetings::Meeting;
pub(super) use page::labels;
pub use page::{SafetyView, safety};

pub(super) use burns::{burns_beyond_its_class, burns_skin, clothing, gloves_and_eyes, is_rinsed_long};
pub(super) use cautions::{
    dust_between, dust_mask, dust_of_step, kept_in_pores, of_application, of_place, of_reading, of_work,
    oily_dust, unknown_ground,
};
pub(super) use meetings::meetings;
pub(super) use strength::by_volume;

use crate::catalog::{Catalog, Class, Need};
use crate::speech::{said, say};
use crate::study::{Exposure, KindOf, Mix, Product, Sheet, StatedLabel, Step, Study, Supply};

/// The box of a step with a supply.
pub(super) fn of_step(catalog: &Catalog, study: &Study, step: &Step) -> Option<Card> {
    let Some(with) = &step.with else {
        let verb = catalog.step(step.verb.word())?;
        let asks = step.broken || verb.needs_supply == Need::Always;
        return asks.then(|| card::unknown(catalog, say!("what this step is done with"), None));
    };
    let supply = study.supply(with.value);
    let mix = step.mix.as_ref().or(supply.mix.as_ref()).map(|mix| &mix.value);
    of_mixed(catalog, study, supply, mix)
}

/// The box of a carrier that the study does not name, save whose it is.
pub(super) fn of_carrier(catalog: &Catalog, study: &Study) -> Card {
    let name = match study.carrier_of().map(|id| study.product(id).title()) {
        Some(product) => say!("the carrier of {product} alone", product),
        None => say!("the carrier alone").to_owned(),
    };
    card::unknown(catalog, &name, None)
}

/// The box of the glue for dollies, which no study names.
pub(super) fn of_glue(catalog: &Catalog) -> Card {
    card::unknown(catalog, say!("Glue for the dollies"), None)
}

/// The box of dust beside the work that makes it, which says there where the dust goes.
pub(super) fn of_dust(catalog: &Catalog, study: &Study, dust: &Class) -> Card {
    let mut card = card::known(catalog, dust, said(dust.name), None);
    card::breathe(&mut card, dust_mask(catalog, study, dust));
    // The cautions of the work stand beside it in words of their own.
    card.cautions.clear();
    card.after.clear();
    card.sheet.clear();
    card
}

/// The card of a supply at a mix, with the things of the study that it must not meet.
pub(super) fn of_mixed(catalog: &Catalog, study: &Study, supply: &Supply, mix: Option<&Mix>) -> Option<Card> {
    let mut card = of_supply(catalog, supply, mix, &[])?;
    if let Some(handling) = class_of(supply.kind.as_ref()).map(|class| &class.handling) {
        if mix == Some(&Mix::Neat) {
            card::leave_out(&mut card, &handling.diluting);
        }
        if study.film().is_none() {
            card::leave_out(&mut card, &handling.film);
        }
    }
    card::name_own(catalog, &mut card, &meetings::things(study));
    Some(card)
}

/// The card of a supply at a mix, without one as bought; `more` stands below what is said of its strength. Water and what
/// protects have none.
fn of_supply(catalog: &Catalog, supply: &Supply, mix: Option<&Mix>, more: &[String]) -> Option<Card> {
    let sheet = supply.sheet.as_ref();
    if supply.gear.is_some() {
        return None;
    }
    let mut card = match class_of(supply.kind.as_ref()) {
        Some(class) if class.id == "water" => return None,
        Some(class) => {
            let mut card = card::known(catalog, class, supply.title(), sheet);
            let words = supply.kind.as_ref().map(|kind| kind.words.value.as_str());
            if let Some(part) = words.and_then(|words| class.part_called(words)) {
                card.title = format!("{}: {}", supply.title(), said(part));
            }
            strength::by_strength(catalog, &mut card, class, supply, mix);
            card
        }
        None => card::unknown(catalog, supply.title(), sheet),
    };
    card.strength.extend_from_slice(more);
    let can = supply.is_aerosol().then(|| Can { content: class_of(supply.kind.as_ref()) });
    Some(finished(catalog, card, class_of(supply.kind.as_ref()), supply.label(), sheet, can))
}

/// A spray can.
struct Can<'a> {
    /// The class of what is in it, where it is known.
    content: Option<&'a Class>,
}

/// A card with the label of the data sheet, where the study gives that, and with that of a spray can.
fn finished(
    catalog: &Catalog,
    mut card: Card,
    class: Option<&Class>,
    label: Option<&StatedLabel>,
    sheet: Option<&Sheet>,
    can: Option<Can<'_>>,
) -> Card {
    if let Some(label) = label {
        card::put_stated(catalog, &mut card, label, sheet);
    }
    if let Some(can) = can {
        packed::put_aerosol(catalog, &mut card, can.content, label);
    }
    if burns_beyond_its_class(class, label) {
        card::guard(catalog, &mut card, burns::gloves_and_eyes());
    }
    if card.statements.iter().any(|own| own.code == burns::BURNS) {
        card::clothe(&mut card, &burns::clothing());
    }
    let grave = card.statements.iter().filter_map(|own| catalog.line_of_statement(&own.code));
    let grave: Vec<Sourced> = grave.map(|line| Sourced::of(line.text, line.source)).collect();
    card.called.extend(grave);
    card
}

/// The box of an application.
pub(super) fn of_product(catalog: &Catalog, study: &Study, product: &Product) -> Card {
    let card = match class_of(product.kind.as_ref()) {
        Some(class) => card::known(catalog, class, product.title(), product.sheet.as_ref()),
        None => card::unknown(catalog, product.title(), product.sheet.as_ref()),
    };
    let can = product.is_aerosol().then(|| Can { content: class_of(product.kind.as_ref()) });
    let class = class_of(product.kind.as_ref());
    let mut card = finished(catalog, card, class, product.label(), product.sheet.as_ref(), can);
    if let Some(class) = class_of(product.kind.as_ref()).filter(|_| !product.is_wiped()) {
        card::leave_out(&mut card, &class.handling.buffing);
    }
    if let Some(pack) = catalog.aerosol().filter(|_| is_sprayed(catalog, product)) {
        packed::protect(&mut card, pack, class_of(product.kind.as_ref()));
        // What is a spray by its class would go from its bottle into a cup; the tool of the study sprays it where it is to be.
        if let Some(class) = class_of(product.kind.as_ref()).filter(|class| class.id == SPRAY) {
            card::leave_out(&mut card, &class.handling.pouring);
        }
    }
    card::name_own(catalog, &mut card, &meetings::things(study));
    card
}

/// The class of what is bought in a bottle that sprays.
pub(super) const SPRAY: &str = "spray-sealant";

/// Whether a product leaves a can or a sprayer at the panel, so that nothing of it is measured in a syringe.
pub(super) fn goes_on_as_mist(catalog: &Catalog, product: &Product) -> bool {
    product.is_aerosol() || is_sprayed(catalog, product)
}

/// Whether a product is laid on as a mist by a gun; then its user breathes what a can would make him breathe.
pub(super) fn is_sprayed(catalog: &Catalog, product: &Product) -> bool {
    product.tool.as_ref().is_some_and(|tool| catalog.makes_mist(&tool.how))
}

fn class_of(kind: Option<&KindOf>) -> Option<&'static Class> {
    kind.and_then(|kind| kind.class)
}

/// What the study says of the place where the panel stands.
fn place(study: &Study) -> String {
    study.exposures.iter().map(words_of).collect::<Vec<String>>().join(" ")
}

/// What it says of one site.
pub(super) fn words_of(place: &Exposure) -> String {
    format!("{} {}", place.site, place.prose)
}

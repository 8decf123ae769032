//! Labels that go by strength: isopropanol in water, and stocks stronger than the usual one.

use super::super::numbers;
use super::card::{Card, Label, put_label};
use crate::catalog::{Catalog, Class, Isopropanol};
use crate::speech::{said, say};
use crate::study::{Mix, Supply};
use crate::units::{AnyQuantity, Dimension};

/// The label of a supply at the strength of a mix; without a mix, at the strength as it was bought.
pub(super) fn by_strength(
    catalog: &Catalog,
    card: &mut Card,
    class: &Class,
    supply: &Supply,
    mix: Option<&Mix>,
) {
    if class.id == "isopropanol" {
        return isopropanol(catalog, card, strength(catalog, mix, supply));
    }
    // Whoever mixes holds the stock, so its own strength counts, whatever the mix.
    let percent = supply.strength.map(|strength| strength.value);
    if let Some((strength, label)) = supply.strength.zip(percent.and_then(|percent| class.stronger(percent)))
    {
        let label = Label {
            signal: label.signal,
            pictograms: &label.pictograms,
            statements: &label.statements,
            specific: class.has_own_treatment(),
        };
        put_label(catalog, card, label);
        let strength = numbers::amount(&strength);
        card.strength = vec![say!("This is the label of the stock as bought, {strength}.", strength)];
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
pub(in crate::report) fn by_volume(catalog: &Catalog, any: AnyQuantity) -> Option<f64> {
    match any.unit.dimension {
        Dimension::PercentVolume => Some(any.value),
        Dimension::PercentMass => Some(catalog.isopropanol()?.mass.percent_by_volume(any.value)),
        _ => None,
    }
}

fn isopropanol(catalog: &Catalog, card: &mut Card, percent: Option<f64>) {
    let Some(at) = percent.and_then(|percent| catalog.isopropanol_at(percent)) else {
        card.strength = vec![say!("Strength not stated: this is the label of the neat alcohol.").to_owned()];
        return;
    };
    let label =
        Label { signal: at.signal, pictograms: &at.pictograms, statements: &at.statements, specific: false };
    put_label(catalog, card, label);
    card.strength = vec![strength_line(&at)];
    card.flash = flash(&at);
    card.note = String::new();
    let [strength, flash, borders] = at.sources.map(|source| said(source.as_str()));
    let sources =
        say!("strength: {strength}; flash point: {flash}; borders: {borders}", strength, flash, borders);
    card.source = format!("{sources}; {}", card.source);
}

fn flash(at: &Isopropanol) -> String {
    match at.flash_deg_c.map(|flash| numbers::decimal(flash.round())) {
        Some(flash) if at.modelled => say!("about {flash} °C by a model, not measured.", flash),
        Some(range) => say!("about {range} °C.", range),
        None => say!("not known at this strength.").to_owned(),
    }
}

fn strength_line(at: &Isopropanol) -> String {
    let percent = numbers::decimal((at.percent_by_volume * 10.0).round() / 10.0);
    let mass = numbers::decimal(at.percent_by_mass.round());
    let border = if at.near_border {
        say!(" A class border is near, so the more severe statement is printed.")
    } else {
        ""
    };
    say!(
        "{percent} % by volume is about {mass} % by mass. Flash point {flash}{border}",
        percent,
        mass,
        flash = flash(at),
        border
    )
}

/// What a mix of isopropanol is labelled with, in a line: `35 % by volume is about ...`.
pub(super) fn mix_line(catalog: &Catalog, supply: &Supply, mix: &Mix) -> Option<String> {
    let at = catalog.isopropanol_at(strength(catalog, Some(mix), supply)?)?;
    let precautions = catalog.precautions_of(&at.statements, false);
    let label = [said(at.signal.word()).to_owned(), at.statements.join(", "), precautions.join(", ")];
    Some(say!(
        "{strength} Label of that mix: {label}.",
        strength = strength_line(&at),
        label = label.join("; ")
    ))
}

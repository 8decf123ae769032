//! What the answer would be without what lies far off in it.

use super::asked::Place;
use super::footing::leaders;
use super::material::Material;
use super::names;
use super::numbers::with_unit;
use crate::analysis::WithoutFarOff;
use crate::readings::Cell;
use crate::speech::{list, say};
use crate::study::{ProductId, Treatment};
use crate::units::decimal;

/// The sentence, and whether other products may lead without it; `None` where the same may lead and none of them has anything far off.
pub(super) fn without(material: &Material<'_>, at: Place<'_>) -> Option<(String, bool)> {
    let found = material.analysis.without_far_off.as_ref()?;
    let (_, round) = material.analysis.deciding()?;
    let now = leaders(round.lead.as_ref().ok())?;
    let then = leaders(found.lead.as_ref().ok());
    let what = what(material, found);
    // Who has no other number is not overtaken by those that have.
    let compared = |id: &ProductId| {
        found.lead.as_ref().is_ok_and(|table| table.rows.iter().any(|row| row.product == *id))
    };
    let lost: Vec<ProductId> = now.iter().filter(|id| !compared(id)).copied().collect();
    if then.is_some() && !lost.is_empty() {
        let products = list(&names::products(at.study, &lost), "and");
        return Some((
            say!("Without what lies far off, {what}, {products} cannot be compared.", what, products),
            true,
        ));
    }
    Some(match then {
        Some(then) if then == now => {
            if !found.far.iter().any(|(cell, _)| is_of(at, cell, &now)) {
                return None;
            }
            let all = round.lead.as_ref().is_ok_and(|table| table.rows.len() == now.len());
            let was_alike = material.analysis.answer.all_alike();
            let text = match found.lead.as_ref().ok().and_then(|table| table.all_alike) {
                Some(true) if was_alike => {
                    say!("Without what lies far off, {what}, the products are alike as well.", what)
                }
                _ if was_alike => {
                    say!("Without what lies far off, {what}, the products are not shown to be alike.", what)
                }
                _ if all => {
                    say!(
                        "Without what lies far off, {what}, no product is told from the others either.",
                        what
                    )
                }
                _ => say!("Without what lies far off, {what}, the same may lead.", what),
            };
            (text, was_alike && found.lead.as_ref().is_ok_and(|table| table.all_alike != Some(true)))
        }
        Some(then) => {
            let products = list(&names::products(at.study, &then), "and");
            (say!("Without what lies far off, {what}, these may lead: {products}.", what, products), true)
        }
        None => (say!("Without what lies far off, {what}, no product is said to lead.", what), true),
    })
}

/// The sentence where other products may lead without it, for the table of those that may.
pub(super) fn hangs(material: &Material<'_>) -> Option<String> {
    let at = Place::of(material.study, material.analysis)?;
    without(material, at).filter(|(_, turned)| *turned).map(|(text, _)| text)
}

fn is_of(at: Place<'_>, cell: &Cell, products: &[ProductId]) -> bool {
    let treatment = at.study.section(cell.section).treatment;
    products.iter().any(|&id| treatment == Treatment::Product(id))
}

/// `722 GU on A3 at month 18`; of more than three how many.
fn what(material: &Material<'_>, found: &WithoutFarOff) -> String {
    const FEW: usize = 3;
    let study = material.study;
    if found.far.len() > FEW {
        return say!("readings on {n} sections", n = found.far.len());
    }
    let one = |(cell, value): &(Cell, Option<f64>)| {
        let (section, round) = (names::section(study, cell.section), names::round(study, cell.round));
        match value {
            Some(value) => {
                let value = with_unit(
                    &crate::speech::marked(&decimal(*value)),
                    &study.measure(cell.measure).unit.symbol,
                );
                say!("{value} on {section} at {round}", value, section, round)
            }
            None => say!("{section} at {round}", section, round),
        }
    };
    list(&found.far.iter().map(one).collect::<Vec<_>>(), "and")
}

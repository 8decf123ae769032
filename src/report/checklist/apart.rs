//! What must not meet has cans of its own: how many that takes, and what goes into each.

use crate::catalog::{Catalog, Class, Danger, burns};
use crate::study::{KindOf, StatedLabel, Study};

/// A supply or product by its name and class.
#[derive(Debug, Clone, Copy)]
pub(super) struct Thing<'a> {
    pub(super) name: &'a str,
    class: Option<&'a Class>,
    burns: bool,
}

impl Thing<'_> {
    /// Whether cloths with it are never shut in before they have cured.
    pub(super) fn cures_in_the_open(&self) -> bool {
        self.class.is_some_and(|class| class.is_in("silazane") || class.is_in("isocyanate"))
    }
}

/// Every supply and product that is a chemical.
pub(super) fn things<'a>(study: &'a Study, catalog: &'a Catalog) -> Vec<Thing<'a>> {
    let thing = |name: &'a str, kind: Option<&'a KindOf>, label: Option<&StatedLabel>, is_can: bool| {
        let class = kind.and_then(|kind| kind.class);
        let content = match (label, class) {
            (Some(label), _) => label.burns(),
            (None, class) => class.is_some_and(Class::burns),
        };
        let can = catalog.aerosol().filter(|_| is_can);
        let can = can.is_some_and(|pack| pack.statements.iter().any(|code| burns(code)));
        let oily = class.is_some_and(|class| class.is_in("drying-oil"));
        Thing { name, class, burns: content || can || oily }
    };
    let supplies = study.supplies.iter().filter(|supply| supply.gear.is_none());
    let supplies = supplies.map(|own| thing(own.title(), own.kind.as_ref(), own.label(), own.is_aerosol()));
    let products = study.products.iter();
    let products = products.map(|own| thing(own.title(), own.kind.as_ref(), own.label(), own.is_aerosol()));
    supplies.chain(products).collect()
}

/// Whose cloths burn, in as few cans as keep apart what must not meet; what is of no stated class has a can for itself.
pub(super) fn cans<'a>(study: &'a Study, catalog: &'a Catalog) -> Vec<Vec<Thing<'a>>> {
    let mut cans: Vec<Vec<Thing<'a>>> = Vec::new();
    for thing in things(study, catalog).into_iter().filter(|thing| thing.burns) {
        match cans.iter_mut().find(|can| can.iter().all(|other| may_meet(catalog, thing, *other))) {
            Some(can) => can.push(thing),
            None => cans.push(vec![thing]),
        }
    }
    cans
}

fn may_meet(catalog: &Catalog, one: Thing<'_>, other: Thing<'_>) -> bool {
    let Some((one, other)) = one.class.zip(other.class) else { return false };
    catalog.meet(one, other).is_none_or(|pair| pair.severity != Danger::Forbid)
}

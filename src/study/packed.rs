//! How a supply or a product is packed and labelled: a can under pressure has hazards whatever is in it.

use super::{KindOf, Product, StatedLabel, Study, Supply};
use crate::catalog::{Catalog, Class, SheetSeverity};

/// What the study says of the pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Packed {
    /// A spray can: gas under pressure drives it.
    Aerosol,
    /// A bottle, tin or pump spray, which has no pressure.
    Bottle,
}

/// The statement that every aerosol carries, whatever its category (UN GHS, chapter 2.3).
pub const UNDER_PRESSURE: &str = "H229";

/// Whether a thing is a spray can: the study says so, or its data sheet or its class says what only a spray can says.
fn is_aerosol(packed: Option<Packed>, kind: Option<&KindOf>, stated: Option<&StatedLabel>) -> bool {
    let class = kind.and_then(|kind| kind.class);
    let by_class = || class.is_some_and(|class| class.hazards.statements.contains(&UNDER_PRESSURE));
    let by_sheet = |label: &StatedLabel| label.hazards.iter().any(|code| code == UNDER_PRESSURE);
    match (packed, stated) {
        (Some(packed), _) => packed == Packed::Aerosol,
        (None, Some(label)) => by_sheet(label) || by_class(),
        (None, None) => by_class(),
    }
}

/// Whether a label states no hazard of a class that burns, poisons or sensitises: a slip there would take every warning away.
fn strips(kind: Option<&KindOf>, stated: &StatedLabel) -> bool {
    let class = kind.and_then(|kind| kind.class);
    stated.hazards.is_empty() && class.is_some_and(|class| class.sheet_severity == SheetSeverity::Error)
}

impl Supply {
    /// The label of its data sheet, where it stands in place of that of the class: `hazards none` does so for no grave class.
    pub fn label(&self) -> Option<&StatedLabel> {
        self.stated.as_ref().filter(|stated| !strips(self.kind.as_ref(), stated))
    }

    /// Whether it is a spray can.
    pub fn is_aerosol(&self) -> bool {
        is_aerosol(self.packed, self.kind.as_ref(), self.stated.as_ref())
    }
}

impl Product {
    /// The label of its data sheet, as that of a supply.
    pub fn label(&self) -> Option<&StatedLabel> {
        self.stated.as_ref().filter(|stated| !strips(self.kind.as_ref(), stated))
    }

    /// Whether it is a spray can.
    pub fn is_aerosol(&self) -> bool {
        is_aerosol(self.packed, self.kind.as_ref(), self.stated.as_ref())
    }
}

impl Study {
    /// The class of a liquid that a mix names: that of a supply of this name, else the one that the word means.
    pub fn liquid_class<'a>(&self, catalog: &'a Catalog, liquid: &str) -> Option<&'a Class> {
        match self.supplies.iter().find(|supply| supply.name.value == liquid) {
            Some(supply) => supply.kind.as_ref()?.class,
            None => catalog.class(liquid),
        }
    }
}

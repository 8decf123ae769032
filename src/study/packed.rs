//! How a supply or a product is packed: a can under pressure has hazards whatever is in it.

use super::{KindOf, Product, StatedLabel, Supply};

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

impl Supply {
    /// Whether it is a spray can.
    pub fn is_aerosol(&self) -> bool {
        is_aerosol(self.packed, self.kind.as_ref(), self.stated.as_ref())
    }
}

impl Product {
    /// Whether it is a spray can.
    pub fn is_aerosol(&self) -> bool {
        is_aerosol(self.packed, self.kind.as_ref(), self.stated.as_ref())
    }
}

//! What burns skin: the water that stands ready for whoever is hit, and the clothing besides gloves and goggles.

use crate::catalog::Class;
use crate::study::StatedLabel;

/// Causes severe skin burns and eye damage.
const BURNS: &str = "H314";

/// Whether a thing burns skin by the label of its data sheet, else by the usual one of its class.
pub(in crate::report) fn burns_skin(class: Option<&Class>, stated: Option<&StatedLabel>) -> bool {
    match stated {
        Some(stated) => stated.hazards.iter().any(|code| code == BURNS),
        None => class.is_some_and(|class| class.hazards.statements.contains(&BURNS)),
    }
}

/// Whether whoever is hit by it rinses for a quarter of an hour, which no bottle lasts for.
pub(in crate::report) fn is_rinsed_long(class: Option<&Class>, stated: Option<&StatedLabel>) -> bool {
    burns_skin(class, stated) || class.is_some_and(|class| class.handling.first_aid.contains("15 minutes"))
}

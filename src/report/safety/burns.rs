//! What burns skin: the water that stands ready for whoever is hit, and the clothing besides gloves and goggles.

use super::entry::Entry;
use crate::catalog::Class;
use crate::speech::say;
use crate::study::StatedLabel;

/// Causes severe skin burns and eye damage.
pub(super) const BURNS: &str = "H314";

/// Whether a thing burns skin by the label of its data sheet, else by the usual one of its class.
pub(in crate::report) fn burns_skin(class: Option<&Class>, stated: Option<&StatedLabel>) -> bool {
    match stated {
        Some(stated) => stated.hazards.iter().any(|code| code == BURNS),
        None => class.is_some_and(|class| class.hazards.statements.contains(&BURNS)),
    }
}

/// Whether a thing burns skin by the label of its data sheet, and its class, where that is stated, does not.
pub(in crate::report) fn burns_beyond_its_class(class: Option<&Class>, stated: Option<&StatedLabel>) -> bool {
    burns_skin(class, stated) && !burns_skin(class, None)
}

/// Gloves, and what covers eyes and face, for what burns beyond its class: with H314 the label asks for both (P280; CLP Regulation
/// (EC) 1272/2008, Annex IV). Of what they are only its data sheet knows.
pub(in crate::report) fn gloves_and_eyes() -> [Entry; 2] {
    [
        Entry::new(
            say!("Gloves"),
            say!("that it does not get through, over the wrist: of what, section 8 of its data sheet says"),
        ),
        Entry::new(
            say!("Eyes"),
            say!("closed goggles, and a face shield besides: of what kind, section 8 of its data sheet says"),
        ),
    ]
}

/// Whether whoever is hit by it rinses for a quarter of an hour, which no bottle lasts for.
pub(in crate::report) fn is_rinsed_long(class: Option<&Class>, stated: Option<&StatedLabel>) -> bool {
    burns_skin(class, stated) || class.is_some_and(|class| class.handling.first_aid.contains("15 minutes"))
}

/// What covers the body. With H314 the label asks for protective clothing (P280; CLP Regulation (EC) 1272/2008, Annex IV); which is
/// common practice, no source.
pub(in crate::report) fn clothing() -> Entry {
    Entry::new(
        say!("Body"),
        say!("apron, long sleeves and closed shoes, of what the liquid does not get through"),
    )
}

//! Checks of preparation: nothing left on the surface that changes the result, and nobody hurt.

mod contact;
mod missing;
mod mixes;
mod steps;

pub(super) mod chemicals_in_contact;
pub(super) mod chemicals_in_one_mix;
pub(super) mod cleaner_attacks_surface;
pub(super) mod dilution_without_strength;
pub(super) mod dwell_outside_limits;
pub(super) mod fluoride_without_gel;
pub(super) mod mix_unclear;
pub(super) mod no_decontamination;
pub(super) mod no_dry;
pub(super) mod no_dwell;
pub(super) mod no_label;
pub(super) mod no_mix;
pub(super) mod no_prep;
pub(super) mod no_rinse;
pub(super) mod no_tape;
pub(super) mod no_tool;
pub(super) mod no_wash;
pub(super) mod no_wipe;
pub(super) mod order_of_prep;
pub(super) mod residue_before_apply;
pub(super) mod step_without_supply;
pub(super) mod stronger_than_supply;

//! Pictures as SVG text, each drawn from its view.

mod frame;
mod hazard;
mod map;

pub(crate) use frame::{Look, stand_alone};
pub(crate) use hazard::{refer as hazard_reference, symbols as hazard_symbols};
pub(crate) use map::{draw as draw_map, size as map_size};

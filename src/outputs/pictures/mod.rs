//! Pictures as SVG text, each drawn from its view.

mod frame;
mod map;

pub(crate) use frame::{Look, stand_alone};
pub(crate) use map::{draw as draw_map, size as map_size};

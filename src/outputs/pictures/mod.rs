//! Pictures as SVG text, each drawn from its view.

mod frame;
mod map;

pub use frame::{Look, stand_alone};
pub use map::{draw as draw_map, size as map_size};

//! What a layout can tell apart, before anything is bought: numbers of sections, bare sections and readings.

mod own;
mod power;
mod ranks;
mod room;
mod scatter;

pub use ranks::{DRAWS, fewest_told, least_p, smallest_by_ranks};
pub use room::Room;
pub use scatter::{Scatter, fewest_readings, least_scatter};

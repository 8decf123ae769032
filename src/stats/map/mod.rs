//! What lies where: trend over a panel, and likeness of neighbours.

pub mod moran;
pub mod plane;

//! Geometry of the panel in mm: overlap, containment, distance, and which outlines lie near each other.
//!
//! Upright rectangles are computed directly; every other shape goes through polygons. A circle
//! stands for itself as a polygon of 96 corners drawn around it, which reaches at most 0.06 % of its
//! radius too far, so that a section that touches the circle is never taken to miss it.

mod near;
mod shape;

pub use near::near_pairs;
pub use shape::{contains, distance, holds, overlap, polygon};

/// Outlines that reach into each other by less than this touch, mm. Tape is placed far less exactly,
/// and lengths in inches carry noise in their last bits.
pub const SLACK_MM: f64 = 1e-3;

//! Where scatter comes from: between sections, between people, between readings.

pub mod crossed;
pub mod mixed;
pub mod nested;

mod symmetric;

//! Readings: CSV rows placed on sections, rounds and measures. A missing value is a value.

/// All readings of a study. To be written.
#[derive(Debug, Default)]
pub struct Readings {}

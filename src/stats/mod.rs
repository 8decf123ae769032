//! Statistics on slices: pure functions with their sources.

//! The analysis: hand-worked studies, a simulated study with its reference results, degenerate data and properties.

#![allow(
    clippy::unwrap_used,
    clippy::float_cmp,
    clippy::expect_used,
    clippy::format_push_string,
    reason = "a test may stop at what it did not expect"
)]

mod bench;
mod benchmark;
mod blanks;
mod beside;
mod by_model;
mod by_piece;
mod chances;
mod climate;
mod cycles;
mod degenerate;
mod ends;
mod hand_worked;
mod headline;
mod levels;
mod kinds;
mod outside;
mod over_sites;
mod over_time;
mod pairs;
mod panel;
mod pieces;
mod productless;
mod properties;
mod ratings;
mod simulated;
mod spent;
mod turned;

/// Whether two numbers agree to a share of the larger one, or to as much of 1.
fn close(left: f64, right: f64, share: f64) -> bool {
    (left - right).abs() <= share * left.abs().max(right.abs()).max(1.0)
}

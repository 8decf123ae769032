//! The built pages in a real browser and on paper: room, colour, closed to the network, accessibility, print.
//!
//! These tests need Chromium, poppler-utils and axe-core, so `cargo test` leaves them out. `.ci/run` installs all three and
//! runs `cargo test --test browser -- --include-ignored`; what is missing there is a failure. `CHROMIUM` names another
//! browser than `chromium`, `AXE_CORE` the file `axe.min.js`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::disallowed_methods,
    reason = "a test stops where a tool is missing, and reads and writes its own folder"
)]

mod access;
mod chromium;
mod closed;
mod colour;
mod examples;
mod house;
mod layout;
mod paper;
mod pdf;
mod photos;
mod pictures;

/// Fails with everything that is wrong, not with the first.
fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

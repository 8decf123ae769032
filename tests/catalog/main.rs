//! The built-in catalog: it loads, it is consistent, and its safety facts are the published ones.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::format_push_string,
    reason = "a test may stop at what it did not expect"
)]

mod chemicals;
mod isopropanol;
mod labels;
mod loading;
mod names;
mod pairs;
mod papers;
mod spoken;
mod work;

use tapeline::catalog::{Catalog, Class};

/// The catalog under test.
fn catalog() -> &'static Catalog {
    Catalog::built_in()
}

/// A class that must be there.
fn class(name: &str) -> &'static Class {
    catalog().class(name).unwrap_or_else(|| panic!("no class `{name}`"))
}

/// Whether two numbers lie within a distance.
fn close(left: f64, right: f64, within: f64) -> bool {
    (left - right).abs() <= within
}

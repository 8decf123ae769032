//! Checks: one file each, one registry. A check reads the study and tells what a practitioner should do otherwise.

mod frame;
mod map;

pub use frame::{Example, example};

use crate::catalog::Catalog;
use crate::diag::{Finding, Page};
use crate::readings::Readings;
use crate::study::Study;
use jiff::civil::Date;

/// Everything that a check may look at.
#[derive(Debug, Clone, Copy)]
pub struct Context<'a> {
    /// The study as it was understood; parts that were broken are marked so.
    pub study: &'a Study,
    /// Reference data.
    pub catalog: &'a Catalog,
    /// Readings, if there are any yet.
    pub readings: &'a Readings,
    /// The day on which the study is looked at.
    pub today: Date,
}

/// One check: its page and its function. It is order-free, cheap, and depends on no other check.
#[derive(Debug, Clone, Copy)]
pub struct Check {
    /// What `explain` prints; its code is the code of every finding of this check.
    pub page: Page,
    /// Adds findings.
    pub run: fn(&Context<'_>, &mut Vec<Finding>),
}

/// Every check, in the order in which the reference lists them.
pub static CHECKS: &[&Check] = &[
    &map::sections_overlap::CHECK,
    &map::off_the_surface::CHECK,
    &map::on_avoided_area::CHECK,
    &map::on_curved_area::CHECK,
    &map::smaller_than_foot::CHECK,
    &map::gap_narrower_than_tape::CHECK,
    &map::ragged_rows::CHECK,
    &map::like_products_together::CHECK,
    &map::no_bare_section::CHECK,
    &map::few_bare_sections::CHECK,
    &map::bare_sections_bunched::CHECK,
    &map::no_replicates::CHECK,
    &map::unequal_sections::CHECK,
];

/// Runs every check.
pub fn run(context: &Context<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        (check.run)(context, &mut findings);
    }
    findings
}

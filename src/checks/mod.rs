//! Checks: one file each, one registry. A check reads the study and tells what a practitioner should do otherwise.

mod frame;
mod map;
mod names;
mod prep;

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
    &map::unequal_sections::CHECK,
    &prep::no_prep::CHECK,
    &prep::no_wash::CHECK,
    &prep::no_decontamination::CHECK,
    &prep::no_dry::CHECK,
    &prep::no_wipe::CHECK,
    &prep::no_tape::CHECK,
    &prep::no_label::CHECK,
    &prep::step_without_supply::CHECK,
    &prep::no_tool::CHECK,
    &prep::order_of_prep::CHECK,
    &prep::no_dwell::CHECK,
    &prep::dwell_outside_limits::CHECK,
    &prep::no_rinse::CHECK,
    &prep::residue_before_apply::CHECK,
    &prep::no_mix::CHECK,
    &prep::mix_unclear::CHECK,
    &prep::dilution_without_strength::CHECK,
    &prep::stronger_than_supply::CHECK,
    &prep::chemicals_in_contact::CHECK,
    &prep::chemicals_in_one_mix::CHECK,
    &prep::fluoride_without_gel::CHECK,
    &prep::cleaner_attacks_surface::CHECK,
    &names::no_data_sheet::CHECK,
    &names::class_not_stated::CHECK,
    &names::class_not_known::CHECK,
    &names::product_not_on_map::CHECK,
    &names::benchmark_not_on_map::CHECK,
    &names::supply_not_used::CHECK,
    &names::gauge_not_used::CHECK,
    &names::measure_not_read::CHECK,
    &names::measure_without_gauge::CHECK,
    &names::film_gauge_for_thin_coat::CHECK,
];

/// Runs every check.
pub fn run(context: &Context<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in CHECKS {
        (check.run)(context, &mut findings);
    }
    findings
}

//! Checks: one file each, one registry. A check reads the study and tells what a practitioner should do otherwise.

mod frame;
mod map;
mod names;
mod paths;
mod prep;
mod schedule;
mod strength;
mod taken;
pub mod waivers;

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
    /// The day on which the study is looked at; `None` where none is known, so that nothing is due.
    pub today: Option<Date>,
}

impl Context<'_> {
    /// True where a day lies before the one on which the study is looked at.
    pub fn is_over(&self, day: Date) -> bool {
        self.today.is_some_and(|today| day < today)
    }

    /// True where a day lies after the one on which the study is looked at.
    pub fn is_to_come(&self, day: Date) -> bool {
        self.today.is_some_and(|today| day > today)
    }
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
    &map::left_to_chance::CHECK,
    &map::blocks_unlike_drawing::CHECK,
    &map::sections_overlap::CHECK,
    &map::off_the_surface::CHECK,
    &map::on_avoided_area::CHECK,
    &map::on_curved_area::CHECK,
    &map::smaller_than_foot::CHECK,
    &map::spot_larger_than_foot::CHECK,
    &map::gap_narrower_than_tape::CHECK,
    &map::ragged_rows::CHECK,
    &map::like_products_together::CHECK,
    &map::no_bare_section::CHECK,
    &map::few_bare_sections::CHECK,
    &map::bare_sections_bunched::CHECK,
    &map::unequal_sections::CHECK,
    &map::product_in_one_row::CHECK,
    &map::product_in_one_piece::CHECK,
    &map::piece_counted_twice::CHECK,
    &map::unlike_at_sites::CHECK,
    &map::section_named_as_reading::CHECK,
    &prep::applied_differently::CHECK,
    &prep::step_on_some_sections::CHECK,
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
    &prep::mixed_aerosol::CHECK,
    &prep::dilution_without_strength::CHECK,
    &prep::stronger_than_supply::CHECK,
    &prep::chemicals_in_contact::CHECK,
    &prep::chemicals_in_one_mix::CHECK,
    &prep::fluoride_without_gel::CHECK,
    &prep::cleaner_attacks_surface::CHECK,
    &prep::tape_on_fresh_coat::CHECK,
    &prep::tape_left_through_cure::CHECK,
    &prep::steel_on_porous::CHECK,
    &prep::abrasive_on_porous::CHECK,
    &prep::salts_not_brushed::CHECK,
    &prep::masonry_not_wetted::CHECK,
    &prep::soap_on_masonry::CHECK,
    &prep::growth_killed_late::CHECK,
    &prep::bleach_and_acid_in_pores::CHECK,
    &prep::chemicals_in_pores::CHECK,
    &prep::wood_not_neutralised::CHECK,
    &prep::porous_dries_too_short::CHECK,
    &prep::no_moisture_reading::CHECK,
    &prep::end_grain_open::CHECK,
    &prep::grit_too_fine_for_oil::CHECK,
    &prep::grit_turns_coarser::CHECK,
    &prep::grit_jump::CHECK,
    &prep::sand_without_grit::CHECK,
    &prep::dust_not_removed::CHECK,
    &prep::no_sanding::CHECK,
    &prep::film_below_limit::CHECK,
    &prep::film_budget::CHECK,
    &prep::leave_above_film::CHECK,
    &prep::film_read_once_a_place::CHECK,
    &prep::film_places_too_few::CHECK,
    &prep::no_film_after_cut::CHECK,
    &prep::no_film_before_cut::CHECK,
    &prep::surface_too_warm::CHECK,
    &prep::no_surface_limit::CHECK,
    &prep::mix_kept_too_long::CHECK,
    &prep::two_pack_without_mix::CHECK,
    &prep::no_pot_life::CHECK,
    &prep::isocyanate_without_air::CHECK,
    &prep::machine_after_solvent::CHECK,
    &prep::heat_after_solvent::CHECK,
    &prep::upkeep_leaves_film::CHECK,
    &prep::upkeep_strips_coat::CHECK,
    &prep::wet_before_reading::CHECK,
    &prep::wet_before_apply::CHECK,
    &prep::read_on_residue::CHECK,
    &prep::baseline_before_last_step::CHECK,
    &prep::clay_marks_left::CHECK,
    &prep::compound_not_refined::CHECK,
    &prep::no_wash_after_tar_remover::CHECK,
    &prep::agent_unfit_for_step::CHECK,
    &prep::alcohol_too_strong::CHECK,
    &prep::alcohol_too_weak::CHECK,
    &prep::same_pad_for_two::CHECK,
    &prep::cloth_not_changed::CHECK,
    &prep::no_flash_off::CHECK,
    &names::no_data_sheet::CHECK,
    &names::hazards_without_sheet::CHECK,
    &names::no_hazards_for_class::CHECK,
    &names::aerosol_not_on_sheet::CHECK,
    &names::packing_not_stated::CHECK,
    &names::other_part_not_listed::CHECK,
    &names::mixed_without_uses::CHECK,
    &names::class_not_stated::CHECK,
    &names::class_not_known::CHECK,
    &names::ground_not_known::CHECK,
    &names::print_name_twice::CHECK,
    &names::product_not_on_map::CHECK,
    &names::benchmark_not_on_map::CHECK,
    &names::spread_in_another_unit::CHECK,
    &names::supply_not_used::CHECK,
    &names::gauge_not_used::CHECK,
    &names::measure_not_read::CHECK,
    &names::measure_without_gauge::CHECK,
    &names::film_gauge_for_thin_coat::CHECK,
    &names::price_unlike_use::CHECK,
    &schedule::apply_before_begins::CHECK,
    &schedule::baseline_after_apply::CHECK,
    &schedule::batch_opened_after_apply::CHECK,
    &schedule::brought_in_before_put_out::CHECK,
    &schedule::certificate_lapses::CHECK,
    &schedule::coats_without_window::CHECK,
    &schedule::cure_before_dry::CHECK,
    &schedule::decides_before_change::CHECK,
    &schedule::deciding_round_missing::CHECK,
    &schedule::humidity_near_dew_point::CHECK,
    &schedule::more_work_than_hands::CHECK,
    &schedule::no_apply_date::CHECK,
    &schedule::no_baseline::CHECK,
    &schedule::no_certificate::CHECK,
    &schedule::no_deciding_measure::CHECK,
    &schedule::no_dew_point_margin::CHECK,
    &schedule::no_fresh_round::CHECK,
    &schedule::no_put_out_date::CHECK,
    &schedule::no_rounds_after_apply::CHECK,
    &schedule::prep_longer_than_time::CHECK,
    &schedule::put_out_before_apply::CHECK,
    &schedule::put_out_before_cure::CHECK,
    &schedule::record_before_begins::CHECK,
    &schedule::record_in_future::CHECK,
    &schedule::round_before_begins::CHECK,
    &schedule::round_before_cure::CHECK,
    &schedule::round_outside_exposure::CHECK,
    &schedule::rounds_collide::CHECK,
    &schedule::rounds_run_backwards::CHECK,
    &schedule::second_coat_outside_window::CHECK,
    &schedule::surface_near_dew_point::CHECK,
    &schedule::climate_not_recorded::CHECK,
    &schedule::upkeep_before_cure::CHECK,
    &schedule::wash_just_before_reading::CHECK,
    &schedule::water_before_dry::CHECK,
    &strength::alike_below_gauge::CHECK,
    &strength::alike_not_below_seen::CHECK,
    &strength::change_misses_the_coat::CHECK,
    &strength::compares_sections_not_products::CHECK,
    &strength::no_gauge_spread::CHECK,
    &strength::no_room_for_readings::CHECK,
    &strength::no_limits::CHECK,
    &strength::plan_too_weak::CHECK,
    &strength::product_on_one_section::CHECK,
    &strength::spent_against_direction::CHECK,
    &strength::limit_beyond_measure::CHECK,
    &strength::spread_from_too_few::CHECK,
    &strength::too_few_readings::CHECK,
    &taken::baseline_read_after_apply::CHECK,
    &taken::below_gauge_beside_numbers::CHECK,
    &taken::cell_missing::CHECK,
    &taken::climate_file_absent::CHECK,
    &taken::climate_unlike_record::CHECK,
    &taken::climate_elsewhen::CHECK,
    &taken::coat_on_wrong_section::CHECK,
    &taken::coat_outside_climate::CHECK,
    &taken::difference_below_zero::CHECK,
    &taken::done_departs_from_plan::CHECK,
    &taken::done_told_twice::CHECK,
    &taken::fewer_readings_than_planned::CHECK,
    &taken::goes_with_treatment::CHECK,
    &taken::gauge_not_declared::CHECK,
    &taken::gauge_out_of_certificate::CHECK,
    &taken::made_measure_read::CHECK,
    &taken::more_readings_than_planned::CHECK,
    &taken::no_readings_block::CHECK,
    &taken::read_before_apply::CHECK,
    &taken::read_in_future::CHECK,
    &taken::read_in_wrong_place::CHECK,
    &taken::read_outside_window::CHECK,
    &taken::reading_far_off::CHECK,
    &taken::reading_very_large::CHECK,
    &taken::readings_file_absent::CHECK,
    &taken::record_file_absent::CHECK,
    &taken::record_has_gaps::CHECK,
    &taken::recorded_on_some_sections::CHECK,
    &taken::recorded_out_of_order::CHECK,
    &taken::recorded_time_outside_limits::CHECK,
    &taken::used_unlike_plan::CHECK,
    &taken::round_missed::CHECK,
    &taken::prep_reading_missed::CHECK,
    &taken::film_lost_unsaid::CHECK,
    &taken::section_far_off::CHECK,
    &taken::section_read_after_its_end::CHECK,
    &taken::read_after_stop::CHECK,
    &taken::spread_unlike_gauge::CHECK,
    &taken::tile_not_declared::CHECK,
    &taken::tile_reading_far_off::CHECK,
];

/// Runs every check.
pub fn run(context: &Context<'_>) -> Vec<Finding> {
    paths::run(context)
}

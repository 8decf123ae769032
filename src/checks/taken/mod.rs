//! Checks of what was taken and done: readings against the plan, the gauges and the record.

pub(super) mod baseline_read_after_apply;
pub(super) mod cell_missing;
pub(super) mod climate_file_absent;
pub(super) mod climate_unlike_record;
pub(super) mod coat_on_wrong_section;
pub(super) mod coat_outside_climate;
pub(super) mod difference_below_zero;
pub(super) mod done_departs_from_plan;
pub(super) mod fewer_readings_than_planned;
pub(super) mod gauge_not_declared;
pub(super) mod gauge_out_of_certificate;
pub(super) mod made_measure_read;
pub(super) mod more_readings_than_planned;
pub(super) mod no_readings_block;
pub(super) mod read_before_apply;
pub(super) mod read_in_future;
pub(super) mod read_in_wrong_place;
pub(super) mod read_outside_window;
pub(super) mod reading_far_off;
pub(super) mod readings_file_absent;
pub(super) mod round_missed;
pub(super) mod section_far_off;
pub(super) mod section_read_after_its_end;
pub(super) mod spread_unlike_gauge;
mod strays;
mod telling;
pub(super) mod tile_not_declared;

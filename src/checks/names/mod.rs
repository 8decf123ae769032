//! Checks of names: what is defined is used, what is used is known.

pub(super) mod aerosol_not_on_sheet;
pub(super) mod benchmark_not_on_map;
pub(super) mod class_not_known;
pub(super) mod class_not_stated;
pub(super) mod film_gauge_for_thin_coat;
pub(super) mod gauge_not_used;
pub(super) mod ground_not_known;
pub(super) mod hazards_without_sheet;
pub(super) mod measure_not_read;
pub(super) mod measure_without_gauge;
pub(super) mod mixed_without_uses;
pub(super) mod no_data_sheet;
pub(super) mod no_hazards_for_class;
pub(super) mod other_part_not_listed;
pub(super) mod packing_not_stated;
pub(super) mod price_unlike_use;
pub(super) mod print_name_twice;
pub(super) mod product_not_on_map;
pub(super) mod spread_in_another_unit;
pub(super) mod supply_not_used;

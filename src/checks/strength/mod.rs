//! Checks of strength: whether the layout, the readings and the gauges can tell the declared limits apart. No simulation.

pub(super) mod alike_below_gauge;
pub(super) mod alike_not_below_seen;
pub(super) mod change_misses_the_coat;
pub(super) mod compares_sections_not_products;
pub(super) mod limit_beyond_measure;
pub(super) mod no_gauge_spread;
pub(super) mod no_limits;
pub(super) mod no_room_for_readings;
pub(super) mod plan_too_weak;
pub(super) mod product_on_one_section;
pub(super) mod spent_against_direction;
pub(super) mod spread_from_too_few;
pub(super) mod too_few_readings;

//! Checks of the map: sections that can be taped, read, and told apart from their position.

mod sections;

pub(super) mod bare_sections_bunched;
pub(super) mod blocks_unlike_drawing;
pub(super) mod few_bare_sections;
pub(super) mod gap_narrower_than_tape;
pub(super) mod left_to_chance;
pub(super) mod like_products_together;
pub(super) mod no_bare_section;
pub(super) mod off_the_surface;
pub(super) mod on_avoided_area;
pub(super) mod on_curved_area;
pub(super) mod piece_counted_twice;
pub(super) mod product_in_one_piece;
pub(super) mod product_in_one_row;
pub(super) mod ragged_rows;
pub(super) mod section_named_as_reading;
pub(super) mod sections_overlap;
pub(super) mod smaller_than_foot;
pub(super) mod spot_larger_than_foot;
pub(super) mod unequal_sections;
pub(super) mod unlike_at_sites;

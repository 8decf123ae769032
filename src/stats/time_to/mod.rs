//! Time to an event that not everybody has met yet.

pub mod kaplan_meier;
pub mod log_rank;
pub mod turnbull;

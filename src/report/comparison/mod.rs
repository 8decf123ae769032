//! The comparison itself: change over time, differences to bare, who may lead, share held, time to spent, cost.

mod change;
mod cost;
mod held;
mod intervals;
mod ranking;
mod spent;

pub(super) use change::parts as change;
pub(super) use cost::part as cost;
pub(super) use held::{parts as held, shown as shares_shown};
pub(super) use intervals::parts as intervals;
pub(super) use ranking::Ranking;
pub(super) use spent::{parts as spent, rule_words};

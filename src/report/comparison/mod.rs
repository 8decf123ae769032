//! The comparison itself: change over time, differences to bare, who may lead, share held, time until spent, cost.

mod against;
mod beside;
mod bias;
mod chances;
mod change;
mod cost;
mod further;
mod held;
mod lead;
mod levels;
mod looks;
mod on_panel;
mod opposed;
mod over_time;
mod pairs;
mod ranking;
mod ratings;
mod spent;
mod turned;

pub(super) use against::{to_bare, to_benchmark, to_productless};
pub(super) use beside::{adjusted, exchange};
pub(super) use bias::known as bias_known;
pub(super) use chances::part as chances;
pub(super) use change::{parts as change, unshown};
pub(super) use cost::part as cost;
pub(super) use further::part as further;
pub(super) use held::{as_much_as_bare, other_order, parts as held, shown as shares_shown};
pub(super) use lead::{part as lead, shared as lead_shared};
pub(super) use on_panel::part as on_panel;
pub(super) use opposed::by_level;
pub(super) use over_time::{appendix as other_runs, part as over_time};
pub(super) use pairs::{appendix as other_pairs, part as pairs};
pub(super) use ranking::Ranking;
pub(super) use ratings::{parts as ratings, raters};
pub(super) use spent::{lasted, parts as spent, rule_of_time, rule_words};
pub(super) use turned::{claim as turned, part as turned_pairs};

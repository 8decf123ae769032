//! What pores keep: bleach and acid that a rinse does not reach, and that meet there.

use super::plan::{Step, Verb};
use super::{Study, Supply};

/// Drying after which little of either is left in the pores, h: from memory, follow the data sheet.
pub const PORES_DRIED_H: f64 = 48.0;

impl Study {
    /// The first two steps of a sequence of which one finds the other's bleach or acid in the pores of a ground that has some.
    pub fn met_in_pores<'a>(&'a self, steps: &[&'a Step]) -> Option<(&'a Step, &'a Step)> {
        let mut kept: Option<(&Step, &str)> = None;
        for &step in steps {
            let own = ["hypochlorite", "acid"].into_iter().find(|group| self.is_done_with(step, group));
            match (kept, own) {
                (Some((earlier, group)), Some(own)) if group != own => return Some((earlier, step)),
                (_, Some(own)) => kept = Some((step, own)),
                (Some(_), None) if dries(step) => kept = None,
                _ => {}
            }
        }
        None
    }

    /// Whether a step is done with what belongs to a reactivity group.
    fn is_done_with(&self, step: &Step, group: &str) -> bool {
        let supply: Option<&Supply> = step.with.as_ref().map(|with| self.supply(with.value));
        let class = supply.filter(|supply| !supply.broken).and_then(|supply| supply.kind.as_ref()?.class);
        class.is_some_and(|class| class.is_in(group))
    }
}

fn dries(step: &Step) -> bool {
    matches!(step.verb, Verb::Dry | Verb::Wait)
        && step.wait.is_some_and(|wait| wait.seconds() >= PORES_DRIED_H * 3600.0)
}

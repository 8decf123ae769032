//! What pores keep: bleach and acid that a rinse does not reach, and that meet there.

use super::plan::{Step, Verb};
use super::{Study, Supply};
use crate::catalog::{Catalog, Class, Danger, Pair, Reach};

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

    /// Every two steps of a sequence that are rinsed between and still make toxic gas, fire or burns in the pores of a ground
    /// that has some; bleach and acid are left to [`Self::met_in_pores`].
    pub fn others_met_in_pores<'a>(
        &'a self,
        catalog: &'a Catalog,
        steps: &[&'a Step],
    ) -> Vec<(&'a Step, &'a Step, &'a Pair)> {
        let mut kept: Vec<(&Step, &Class, bool)> = Vec::new();
        let mut met: Vec<(&Step, &Step, &Pair)> = Vec::new();
        for &step in steps {
            if let Some(own) = self.class_of(step) {
                for &(earlier, other, _) in kept.iter().filter(|(_, _, rinsed)| *rinsed) {
                    let forbidden = |pair: &&Pair| pair.severity == Danger::Forbid;
                    let Some(pair) = catalog.meet_in(Reach::Any, other, own).filter(forbidden) else {
                        continue;
                    };
                    let of = |one: &Class, group| one.is_in(group);
                    let chlorine = (of(own, "acid") && of(other, "hypochlorite"))
                        || (of(own, "hypochlorite") && of(other, "acid"));
                    if !chlorine && !met.iter().any(|(_, _, known)| std::ptr::eq(*known, pair)) {
                        met.push((earlier, step, pair));
                    }
                }
                kept.push((step, own, false));
            }
            if dries(step) {
                kept.clear();
            }
            if step.rinse || step.verb == Verb::Rinse {
                for (_, _, rinsed) in &mut kept {
                    *rinsed = true;
                }
            }
        }
        met
    }

    fn class_of(&self, step: &Step) -> Option<&'static Class> {
        let supply: Option<&Supply> = step.with.as_ref().map(|with| self.supply(with.value));
        supply.filter(|supply| !supply.broken).and_then(|supply| supply.kind.as_ref()?.class)
    }

    /// Whether a step is done with what belongs to a reactivity group.
    fn is_done_with(&self, step: &Step, group: &str) -> bool {
        self.class_of(step).is_some_and(|class| class.is_in(group))
    }
}

fn dries(step: &Step) -> bool {
    matches!(step.verb, Verb::Dry | Verb::Wait)
        && step.wait.is_some_and(|wait| wait.seconds() >= PORES_DRIED_H * 3600.0)
}

//! How a supply is mixed where it is used, and which liquids meet in the mix.

use super::steps::{every_step, supply};
use crate::study::{Mix, Step, Study, Supply};
use crate::text::{Located, Span};
use std::collections::BTreeSet;

/// One use of a supply in a step.
pub(super) struct Use<'a> {
    /// The supply.
    pub(super) supply: &'a Supply,
    /// The step.
    pub(super) step: &'a Step,
    /// The name that a waiver may give besides the supply.
    pub(super) place: &'static str,
    /// The mix of the step, else that of the supply.
    pub(super) mix: Option<&'a Located<Mix>>,
}

/// Every use of a supply that was understood.
pub(super) fn uses(study: &Study) -> Vec<Use<'_>> {
    let uses = every_step(study).into_iter().filter_map(|(place, step)| {
        let supply = supply(study, step)?;
        Some(Use { supply, step, place, mix: step.mix.as_ref().or(supply.mix.as_ref()) })
    });
    uses.collect()
}

/// Every use whose mix is written at another place than those before it, so that one mix is one finding.
pub(super) fn mixes(study: &Study) -> Vec<(Use<'_>, &Located<Mix>)> {
    let mut seen: BTreeSet<Span> = BTreeSet::new();
    let mixed = uses(study).into_iter().filter_map(|used| used.mix.map(|mix| (used, mix)));
    mixed.filter(|(_, mix)| seen.insert(mix.span)).collect()
}

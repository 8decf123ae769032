//! Which steps bring water onto the panel, and which take it off again.

use crate::study::{Step, Verb};

/// Whether a step brings water onto the panel.
pub(super) fn is_wet(step: &Step) -> bool {
    step.rinse || matches!(step.verb, Verb::Wash | Verb::Rinse | Verb::Decontaminate)
}

/// Whether a step dries the panel or gives it time to dry.
pub(super) fn dries(step: &Step) -> bool {
    step.wait.is_some() || matches!(step.verb, Verb::Dry | Verb::Wait)
}

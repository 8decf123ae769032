//! What several checks of preparation ask about steps: in which sequence they stand, with what, of which class.

use crate::catalog::Class;
use crate::study::{Step, Study, Supply, Upkeep};
use crate::units::decimal;

/// Steps that follow one another on the same day.
pub(super) struct Sequence<'a> {
    /// The name that a waiver may give: `prep`, `rounds` or `upkeep`.
    pub(super) place: &'static str,
    /// The steps in order.
    pub(super) steps: Vec<&'a Step>,
}

/// Preparation, the steps before each round, and each step of upkeep by itself.
pub(super) fn sequences(study: &Study) -> Vec<Sequence<'_>> {
    let prep = Sequence { place: "prep", steps: study.prep.iter().collect() };
    let before = Sequence { place: "rounds", steps: study.before_each_round.iter().collect() };
    let upkeep = study.upkeep.iter().filter_map(|upkeep| match upkeep {
        Upkeep::Every { step, .. } => Some(Sequence { place: "upkeep", steps: vec![&**step] }),
        Upkeep::None(_) => None,
    });
    [prep, before].into_iter().chain(upkeep).collect()
}

/// Every step with the place that a waiver may give.
pub(super) fn every_step(study: &Study) -> Vec<(&'static str, &Step)> {
    let sequences = sequences(study).into_iter();
    sequences
        .flat_map(|sequence| sequence.steps.into_iter().map(move |step| (sequence.place, step)))
        .collect()
}

/// The supply of a step, if it was understood.
pub(super) fn supply<'a>(study: &'a Study, step: &Step) -> Option<&'a Supply> {
    step.with.as_ref().map(|with| study.supply(with.value)).filter(|supply| !supply.broken)
}

/// The class of a supply, if it was said and the catalog knows it.
pub(super) fn class(supply: &Supply) -> Option<&'static Class> {
    supply.kind.as_ref()?.class
}

/// Whether a supply is isopropanol, whose mixes go by percent of volume.
pub(super) fn is_isopropanol(supply: &Supply) -> bool {
    class(supply).is_some_and(|class| class.id == "isopropanol")
}

/// A dwell for a message: seconds below two minutes and where minutes would not be whole.
pub(super) fn dwell(from_s: f64, to_s: f64) -> String {
    let (divisor, unit) = if from_s % 60.0 == 0.0 && to_s % 60.0 == 0.0 { (60.0, "min") } else { (1.0, "s") };
    let (from, to) = (decimal(from_s / divisor), decimal(to_s / divisor));
    if from == to { format!("{from} {unit}") } else { format!("{from} to {to} {unit}") }
}

/// The usual dwell of a class in seconds, if the catalog has both ends.
pub(super) fn usual_dwell(class: &Class) -> Option<(f64, f64)> {
    class.work.dwell_min_s.zip(class.work.dwell_max_s)
}

#[cfg(test)]
mod tests {
    use super::dwell;

    #[test]
    fn dwells_read_in_whole_minutes_or_in_seconds() {
        assert_eq!(dwell(120.0, 360.0), "2 to 6 min");
        assert_eq!(dwell(30.0, 180.0), "30 to 180 s");
        assert_eq!(dwell(240.0, 240.0), "4 min");
    }
}

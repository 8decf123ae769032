//! What the papers say of the days between which cycles are done, and of cleaning one patch beside others.

use super::super::numbers::{amount, day};
use super::view::StepView;
use crate::hands::{Cycles, Over};
use crate::speech::{round_name, say};
use crate::study::{Step, Study, Verb};

/// What has to be over before cycle 1.
pub(in crate::report) fn begins(cycles: &Cycles<'_>) -> String {
    let cured = cycles.cured.map(day);
    match (cycles.fresh, cured) {
        (Some((round, date)), Some(cured)) => say!(
            "Cycle 1 begins on {first} at the earliest: every coat has cured by then, by the plan on {cured}, and round {round} is read, \
             planned for {day}.",
            first = cycles.first.map_or_else(|| cured.clone(), day),
            cured,
            round = round_name(&round.name.value),
            day = day(date)
        ),
        (Some((round, date)), None) => say!(
            "Cycle 1 begins when every coat has cured, as its data sheet says, and round {round} is read, planned for {day}.",
            round = round_name(&round.name.value),
            day = day(date)
        ),
        (None, Some(cured)) => {
            say!("Cycle 1 begins when every coat has cured, by the plan on {cured}.", cured)
        }
        (None, None) => say!("Cycle 1 begins when every coat has cured, as its data sheet says.").to_owned(),
    }
}

/// By when the last cycle is over, where a later round destroys what it reads.
pub(in crate::report) fn ends(cycles: &Cycles<'_>) -> Option<String> {
    let Over { round, date, last } = cycles.over.as_ref()?;
    let over = say!(
        "The last cycle is read before round {round}, planned for {day}: that round destroys its places and waits for it.",
        round = round_name(&round.name.value),
        day = day(*date)
    );
    let Some((seconds, last)) = last else { return Some(over) };
    let hours = (seconds / 360.0).ceil() / 10.0;
    let most = say!(
        "A cycle takes {time} at least, so that none is begun after {last}.",
        time = amount(&format!("{hours} h")),
        last = day(*last)
    );
    Some(format!("{over} {most}"))
}

/// Whether patches lie side by side, so that what runs off one may reach another.
pub(super) fn is_beside_others(study: &Study) -> bool {
    study.patches.as_ref().is_some_and(|patches| patches.drawn.len() > 1)
}

/// What keeps patches alike and apart while one of them is cleaned.
pub(super) fn cleaned(study: &Study, step: &Step, view: &mut StepView) {
    // Whoever takes another time on each patch compares times, not products.
    let allowed = || study.supply(step.with.as_ref()?.value).dwell.as_ref();
    let dwell = step.dwell.as_ref().or_else(allowed).map(|dwell| dwell.value);
    if step.verb == Verb::Clean && dwell.is_some_and(|dwell| dwell.low != dwell.high) {
        for fact in view.facts.iter_mut().filter(|fact| fact.label == say!("Dwell")) {
            fact.text.push_str(say!(
                "; one time within it, the same on every patch and in every cycle: write it below"
            ));
        }
        view.fields.push(vec![say!("dwell of all patches").to_owned()]);
    }
    if step.verb == Verb::Clean && is_beside_others(study) {
        let words = say!(
            "Before a patch is cleaned, cover the other patches of its specimen with film, its tape beside the patches and not on \
             them; lay the specimen so that what runs off, rinse water too, runs over no other patch."
        );
        // Its facts are many, so that this stands below the box, where there is room.
        view.cautions.push(words.to_owned());
    }
}

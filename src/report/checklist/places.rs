//! Taking the panel or the specimens to their place, and bringing them in or taking them down at the end.

use super::super::safety::{self, Entry};
use super::lines::{heads, texts};
use super::view::{Group, StepView};
use crate::catalog::Catalog;
use crate::study::{Exposure, Study};

/// Putting out, one step for each place.
pub(super) fn put_out(study: &Study, catalog: &Catalog) -> Group {
    let steps = study.exposures.iter().enumerate().map(|(at, place)| {
        let day = place.put_out.as_ref().map(|day| day.value.to_string());
        let mut facts =
            vec![Entry::new("When", day.unwrap_or_else(|| "no day is stated; write it down".into()))];
        facts.extend(place.faces.as_ref().map(|faces| Entry::new("Faces", faces)));
        facts.extend(
            place
                .tilt_deg
                .map(|deg| Entry::new("Tilt", format!("{} deg from level", crate::units::decimal(deg)))),
        );
        facts.push(Entry::new("Not before", "every coat has cured, unless its data sheet allows it"));
        StepView {
            title: format!("Put {} out: {}", what(study, place), place.site),
            facts,
            ..step(study, catalog, at)
        }
    });
    Group { title: "At its place".into(), steps: steps.collect(), ..Group::default() }
}

/// Bringing in, one step for each place: the last readings come first, since nothing can be read there afterwards.
pub(super) fn end(study: &Study, catalog: &Catalog) -> Group {
    let ends = study.exposures.iter().enumerate().filter_map(|(at, place)| {
        let day = place.brought_in.as_ref()?.value;
        Some((at, place, day))
    });
    let steps = ends.map(|(at, place, day)| {
        let last = study.last_round().map(|id| study.round(id));
        // What is planned for later days is read where the panel is brought to.
        let here = last.filter(|last| last.date().is_none_or(|date| date <= day));
        let mut facts = vec![Entry::new("When", day.to_string())];
        let mut before = here.map_or_else(String::new, |last| {
            format!("the readings of {}, where they are taken at the place; ", last.name.value)
        });
        before.push_str("photos; what lies on it");
        facts.push(Entry::new("Before it", before));
        let after = last.filter(|last| last.date().is_some_and(|date| date > day));
        facts
            .extend(after.map(|last| Entry::new("After it", format!("the readings of {}", last.name.value))));
        facts.push(Entry::new(
            "Labels",
            "check each against the map before it is moved; pack so that no face is touched",
        ));
        StepView {
            title: format!("Bring {} in: {}", what(study, place), place.site),
            facts,
            ..step(study, catalog, at)
        }
    });
    let steps: Vec<StepView> =
        steps.enumerate().map(|(at, step)| StepView { number: at + 1, ..step }).collect();
    Group { title: "At the end".into(), steps, ..Group::default() }
}

fn what(study: &Study, place: &Exposure) -> &'static str {
    match (study.is_on_racks(), place.of.is_some()) {
        (true, true) => "the rack of this site",
        (true, false) => "the rack",
        (false, _) => "the panel",
    }
}

fn step(study: &Study, catalog: &Catalog, at: usize) -> StepView {
    let arising = safety::of_place(catalog, study, &safety::place(study));
    StepView {
        number: at + 1,
        title: String::new(),
        why: String::new(),
        facts: Vec::new(),
        cautions: texts(&arising),
        prose: String::new(),
        boxes: Vec::new(),
        blanks: heads(&["date", "time", "initials"]),
        writing: 1,
        card: None,
    }
}

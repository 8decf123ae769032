//! Taking the panel or the specimens to their place, and bringing them in or taking them down at the end.

use super::super::safety::{self, Entry};
use super::lines::{heads, texts};
use super::view::{Group, StepView};
use crate::catalog::{Catalog, CautionWork};
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
        let last = study.last_round().map(|id| study.round(id).name.value.clone());
        let before = last.map(|last| {
            format!("the readings of {last}, where they are taken at the place; photos; what lies on it")
        });
        let mut facts = vec![Entry::new("When", day.to_string())];
        facts.extend(before.map(|before| Entry::new("Before it", before)));
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
    let place = safety::place(study);
    let texts_of_work = [place.as_str()];
    let work = CautionWork {
        verb: "put",
        class: None,
        hazards: None,
        packing: None,
        texts: &texts_of_work,
        ground: None,
        height_mm: None,
    };
    let arising: Vec<_> = catalog.cautions().iter().filter(|caution| caution.arises(&work)).collect();
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

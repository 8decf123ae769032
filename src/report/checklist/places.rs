//! Taking the panel or the specimens to their place, and bringing them in or taking them down at the end.

use super::super::numbers;
use super::super::safety::{self, Entry};
use super::lines::{heads, texts};
use super::view::{Group, StepView};
use crate::catalog::Catalog;
use crate::speech::{round_name, say};
use crate::study::{Exposure, Study};

/// Putting out, one step for each place.
pub(super) fn put_out(study: &Study, catalog: &Catalog) -> Group {
    let steps = study.exposures.iter().enumerate().map(|(at, place)| {
        let day = place.put_out.as_ref().map(|day| numbers::day(day.value));
        let day = day.unwrap_or_else(|| say!("no day is stated; write it down").into());
        let mut facts = vec![Entry::new(say!("When"), day)];
        facts.extend(place.faces.as_ref().map(|faces| Entry::new(say!("Faces"), faces)));
        let tilt = place.tilt_deg.map(numbers::decimal);
        facts.extend(tilt.map(|deg| Entry::new(say!("Tilt"), say!("{deg}° from level", deg))));
        facts.push(Entry::new(
            say!("Not before"),
            say!("every coat has cured, unless its data sheet allows it"),
        ));
        StepView { title: put_out_title(study, place), facts, ..step(study, catalog, (at, place)) }
    });
    Group { title: say!("At its place").into(), steps: steps.collect(), ..Group::default() }
}

/// Bringing in, one step for each place: the last readings come first, since nothing can be read there afterwards.
pub(super) fn end(study: &Study, catalog: &Catalog) -> Group {
    let ends = study.exposures.iter().enumerate().filter_map(|(at, place)| {
        let day = place.brought_in.as_ref()?.value;
        Some((at, place, day))
    });
    let steps = ends.map(|(at, place, day)| {
        let last = study.last_round().map(|id| study.round(id));
        let name = last.map(|last| round_name(&last.name.value));
        // What is planned for later days is read where the panel is brought to.
        let later = last.and_then(crate::study::Round::date).is_some_and(|date| date > day);
        let mut facts = vec![Entry::new(say!("When"), numbers::day(day))];
        match name {
            Some(last) if later => {
                facts.push(Entry::new(say!("Before it"), say!("photos; what lies on it")));
                facts.push(Entry::new(say!("After it"), say!("the readings of {last}", last)));
            }
            Some(last) => facts.push(Entry::new(
                say!("Before it"),
                say!(
                    "the readings of {last}, where they are taken at the place; photos; what lies on it",
                    last
                ),
            )),
            None => {}
        }
        facts.push(Entry::new(
            say!("Labels"),
            say!("check each against the map before it is moved; pack so that no face is touched"),
        ));
        StepView { title: bring_in_title(study, place), facts, ..step(study, catalog, (at, place)) }
    });
    let steps: Vec<StepView> =
        steps.enumerate().map(|(at, step)| StepView { number: at + 1, ..step }).collect();
    Group { title: say!("At the end").into(), steps, ..Group::default() }
}

/// `Put the panel out: Yard wall`.
pub(in crate::report) fn put_out_title(study: &Study, place: &Exposure) -> String {
    match on(study, place) {
        On::RackOfSite => say!("Put the rack of this site out: {site}", site = place.site),
        On::Rack => say!("Put the rack out: {site}", site = place.site),
        On::Panel => say!("Put the panel out: {site}", site = place.site),
    }
}

/// `Bring the panel in: Yard wall`.
pub(in crate::report) fn bring_in_title(study: &Study, place: &Exposure) -> String {
    match on(study, place) {
        On::RackOfSite => say!("Bring the rack of this site in: {site}", site = place.site),
        On::Rack => say!("Bring the rack in: {site}", site = place.site),
        On::Panel => say!("Bring the panel in: {site}", site = place.site),
    }
}

/// What carries the sections.
enum On {
    RackOfSite,
    Rack,
    Panel,
}

fn on(study: &Study, place: &Exposure) -> On {
    match (study.is_on_racks(), place.of.is_some()) {
        (true, true) => On::RackOfSite,
        (true, false) => On::Rack,
        (false, _) => On::Panel,
    }
}

fn step(study: &Study, catalog: &Catalog, (at, place): (usize, &Exposure)) -> StepView {
    let arising = safety::of_place(catalog, study, &safety::words_of(place));
    StepView {
        number: at + 1,
        title: String::new(),
        why: String::new(),
        facts: Vec::new(),
        cautions: texts(&arising),
        prose: String::new(),
        boxes: Vec::new(),
        blanks: heads(&[say!("date"), say!("time"), say!("initials")]),
        writing: 1,
        card: None,
    }
}

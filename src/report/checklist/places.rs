//! Taking the panel or the specimens to their place, and bringing them in or taking them down at the end.

use super::super::names;
use super::super::numbers;
use super::super::safety::{self, Entry};
use super::lines::{heads, texts};
use super::rounds::after_prep;
use super::view::{Group, StepView};
use crate::catalog::{Catalog, Caution};
use crate::speech::{list, round_name, said, say};
use crate::study::{Anchor, Exposure, Placing, Round, Study};

/// Putting out, one step for each place.
pub(super) fn put_out(study: &Study, catalog: &Catalog) -> Group {
    let steps = study.exposures.iter().enumerate().map(|(at, place)| {
        let day = place.put_out.as_ref().map(|day| numbers::day(day.value));
        let day = day.unwrap_or_else(|| say!("no day is stated; write it down").into());
        let mut facts = vec![Entry::new(say!("When"), day)];
        facts.extend(place.faces.as_ref().map(|faces| Entry::new(say!("Faces"), names::compass(faces))));
        let tilt = place.tilt_deg.map(numbers::decimal);
        facts.extend(tilt.map(|deg| Entry::new(say!("Tilt"), say!("{deg}° from level", deg))));
        facts.push(Entry::new(
            say!("Not before"),
            say!("every coat has cured, unless its data sheet allows it"),
        ));
        let last = read_before(study, place).map(|round| round_name(&round.name.value));
        facts.extend(last.map(|last| Entry::new(say!("Before it"), say!("the readings of {last}", last))));
        facts.extend(two_people(study, catalog, place));
        // What the place is like, since cautions follow from it.
        let prose = place.prose.clone();
        StepView { title: put_out_title(study, place), facts, prose, ..step(study, catalog, (at, place)) }
    });
    Group { title: say!("At its place").into(), steps: steps.collect(), ..Group::default() }
}

/// The last round, behind the coats, that is read before the specimens leave for their place: its days are over by then.
fn read_before<'s>(study: &'s Study, place: &Exposure) -> Option<&'s Round> {
    let out = place.put_out.as_ref()?.value;
    let is_over = |round: &&Round| round.window.is_some_and(|window| window.last <= out);
    let read =
        study.rounds.iter().filter(|round| !round.reads.is_empty() && after_prep(study, round).is_none());
    read.filter(is_over).max_by_key(|round| round.window.map(|window| window.last))
}

/// What is needed at the places beside the tools of the work.
pub(super) fn gear(study: &Study, catalog: &Catalog) -> Vec<(&'static str, String)> {
    let of = |place: &Exposure| {
        let arising = safety::of_place(catalog, study, &safety::words_of(place));
        let arises = |id: &str| arising.iter().any(|caution| caution.id == id);
        let gear = [
            ("height", say!("A platform, or a ladder that can be held or tied")),
            (
                "roof-edge",
                say!(
                    "What a person is tied on with and a fixed point for it, unless all work stays 2 m from the edge; straps that hold racks and tools"
                ),
            ),
            ("over-water", say!("A life jacket for each person, and a line to throw")),
        ];
        gear.into_iter()
            .filter(|(id, _)| arises(id))
            .map(|(_, what)| (what, place.site.clone()))
            .collect::<Vec<_>>()
    };
    study.exposures.iter().flat_map(of).collect()
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
        facts.extend(two_people(study, catalog, place));
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
        signed: false,
        fields: Vec::new(),
        blanks: heads(&[say!("date"), say!("time"), say!("initials")]),
        writing: 1,
        rows: Vec::new(),
        cards: Vec::new(),
    }
}

/// Cautions of a place where nobody is alone.
const NEVER_ALONE: [&str; 2] = ["roof-edge", "over-water"];

/// That a second one comes along where nobody is alone: who plans the day has to know it.
fn two_people(study: &Study, catalog: &Catalog, place: &Exposure) -> Option<Entry> {
    let arising = safety::of_place(catalog, study, &safety::words_of(place));
    let never = arising.iter().any(|caution| NEVER_ALONE.contains(&caution.id));
    never.then(|| {
        Entry::new(say!("People"), say!("two: one works, the other stays in sight and can call for help"))
    })
}

/// The same for everything that is done at any of the places.
pub(super) fn two_there(study: &Study, catalog: &Catalog) -> Option<&'static str> {
    study.exposures.iter().any(|place| two_people(study, catalog, place).is_some()).then(|| {
        say!("Two people go there for whatever is done at the place: one works, the other stays in sight and can call for help.")
    })
}

/// What to mind before each round: of what holds at some rounds only, with the names of these.
pub(super) fn at_rounds(study: &Study, catalog: &Catalog, rounds: &[&Round]) -> Vec<String> {
    let mut told: Vec<(String, Vec<&Round>)> = Vec::new();
    for round in rounds {
        for line in at_round(study, catalog, round) {
            match told.iter_mut().find(|(known, _)| *known == line) {
                Some((_, of)) => of.push(round),
                None => told.push((line, vec![round])),
            }
        }
    }
    let line = |(line, of): (String, Vec<&Round>)| {
        if of.len() == rounds.len() {
            return line;
        }
        let names: Vec<_> = of.iter().map(|round| round_name(&round.name.value)).collect();
        say!("Rounds {rounds}: {line}", rounds = list(&names, "and"), line)
    };
    told.into_iter().map(line).collect()
}

/// What to mind at the place, once for all that is done there; of several sites, what holds at some only with their names.
pub(super) fn at_place(study: &Study, catalog: &Catalog) -> Vec<String> {
    at_sites(study, catalog, study.exposures.iter())
}

/// The same of the sites where a round is read: those that are put out by then and not brought in before.
pub(in crate::report) fn at_round(study: &Study, catalog: &Catalog, round: &Round) -> Vec<String> {
    let there = |place: &&Exposure| {
        let Some(window) = round.window else { return true };
        // What is read on the day of putting out is read before it leaves, and after it has come in on that of bringing in.
        let out = place.put_out.as_ref().is_none_or(|day| day.value < window.last);
        out && place.brought_in.as_ref().is_none_or(|day| day.value > window.first)
    };
    let before = matches!(round.placing, Placing::At(Anchor::Step(_)));
    at_sites(study, catalog, study.exposures.iter().filter(there).filter(|_| !before))
}

fn at_sites<'s>(study: &Study, catalog: &Catalog, places: impl Iterator<Item = &'s Exposure>) -> Vec<String> {
    let sites: Vec<(&str, Vec<&Caution>)> = places
        .map(|place| (place.site.as_str(), safety::of_place(catalog, study, &safety::words_of(place))))
        .collect();
    let arises = |(_, own): &&(&str, Vec<&Caution>), id: &str| own.iter().any(|caution| caution.id == id);
    let mut told: Vec<&Caution> = Vec::new();
    for caution in sites.iter().flat_map(|(_, own)| own) {
        if !told.iter().any(|known| known.id == caution.id) {
            told.push(caution);
        }
    }
    let line = |caution: &Caution| {
        let there: Vec<&str> =
            sites.iter().filter(|site| arises(site, caution.id)).map(|(site, _)| *site).collect();
        let text = said(caution.text);
        if there.len() == sites.len() { text.to_owned() } else { format!("{}: {text}", list(&there, "and")) }
    };
    told.into_iter().map(line).collect()
}

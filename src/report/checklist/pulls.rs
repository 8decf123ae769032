//! Pull-off readings: how many dollies they take, and the step that glues them on in time.

use super::super::numbers::day;
use super::super::safety::{self, Entry};
use super::lines::{BOXED, heads};
use super::steps::section_list;
use super::view::StepView;
use crate::catalog::Catalog;
use crate::hands;
use crate::speech::{list, round_name, say};
use crate::study::{Cost, MeasureId, Round, Study};
use crate::units::Dimension;

/// Whether a measure pulls at a dolly: its gauge destroys the place, and its unit is that of a stress (ISO 4624).
pub(in crate::report) fn is_pulled(study: &Study, id: MeasureId) -> bool {
    let stress = study.measure(id).unit.known.is_some_and(|unit| unit.dimension == Dimension::Pressure);
    stress && study.gauges_of(id).any(|gauge| gauge.cost == Some(Cost::Destroys))
}

/// Every measure that is pulled and read, with the dollies that its readings take in all rounds.
pub(super) fn dollies(study: &Study) -> Vec<(MeasureId, usize)> {
    let pulled = study.measures_with_ids().filter(|(id, _)| is_pulled(study, *id));
    let counted = pulled.map(|(id, _)| {
        let times: usize = read_in(study, id).map(|(_, times)| times).sum();
        (id, times * study.places_of(id).count())
    });
    counted.filter(|(_, number)| *number > 0).collect()
}

/// The rounds that read a measure, and how often on each place.
fn read_in(study: &Study, id: MeasureId) -> impl Iterator<Item = (&Round, usize)> {
    let often = move |round: &Round| -> usize {
        round.reads.iter().filter(|plan| plan.measure.value == id).map(|plan| plan.times as usize).sum()
    };
    study.rounds.iter().map(move |round| (round, often(round))).filter(|(_, times)| *times > 0)
}

/// Gluing the dollies on: the glue has to have cured by the day of the round, so that this is a day of its own before it.
pub(super) fn steps(study: &Study, catalog: &Catalog) -> Vec<StepView> {
    let step = |(at, (id, number)): (usize, (MeasureId, usize))| {
        let codes: Vec<String> = study.places_of(id).map(|(_, place)| place.code.clone()).collect();
        StepView {
            number: at + 1,
            title: say!("Glue the dollies on for {measure}", measure = study.measure(id).name.value),
            why: say!("The glue has to have cured before a dolly is pulled, so it goes on days earlier.")
                .into(),
            facts: facts(study, id, number),
            cautions: vec![
                say!("Gloves for the glue and for the edge of the cut, closed glasses: a dolly flies.")
                    .to_owned(),
            ],
            prose: String::new(),
            boxes: if codes.len() > BOXED { Vec::new() } else { codes },
            signed: false,
            fields: Vec::new(),
            blanks: heads(&[
                say!("glued on, day"),
                say!("time"),
                say!("glue, batch"),
                say!("cured by, as its sheet says"),
                say!("initials"),
            ]),
            writing: 1,
            rows: Vec::new(),
            cards: vec![safety::of_glue(catalog)],
        }
    };
    dollies(study).into_iter().enumerate().map(step).collect()
}

/// How each of them is pulled: of ISO 4624 what a reader has to know, from memory.
pub(super) fn lines(study: &Study) -> Vec<String> {
    let line = |(id, _): (MeasureId, usize)| {
        say!(
            "{measure}, a pull-off (ISO 4624, from memory): once the glue has cured, it is cut all round, close along the edge of the dolly, through the coat \
             or as deep as the study says, and the dolly is pulled. Where it broke is written on the sheet of the round. The place is \
             destroyed, so this reading comes last there.",
            measure = study.measure(id).name.value
        )
    };
    dollies(study).into_iter().map(line).collect()
}

/// When, how many, where, how.
fn facts(study: &Study, id: MeasureId, number: usize) -> Vec<Entry> {
    let rounds: Vec<String> = read_in(study, id)
        .map(|(round, _)| {
            let name = round_name(&round.name.value);
            round.date().map_or_else(|| name.clone().into_owned(), |date| format!("{name} ({})", day(date)))
        })
        .collect();
    let after = hands::cycles(study).and_then(|cycles| cycles.over).is_some();
    let after = if after { say!("; not before the last cycle is read") } else { "" };
    let when = say!(
        "as long before round {rounds} as the data sheet of the glue says that it cures{after}",
        rounds = list(&rounds, "and"),
        after
    );
    let place = on_patch(study, id).map_or_else(
        || {
            let codes: Vec<&str> = study.places_of(id).map(|(_, place)| place.code.as_str()).collect();
            section_list(&codes)
        },
        |patches| say!("{patches} of each specimen{but}", patches, but = ""),
    );
    vec![
        Entry::new(say!("When"), when),
        Entry::new(say!("Dollies"), say!("{n}, one for each pull, and a few to spare", n = number)),
        Entry::new(say!("Where"), place),
        Entry::new(
            say!("Glue"),
            say!("one that its data sheet lets on this coat: that sheet is read before it is opened"),
        ),
        Entry::new(
            say!("How"),
            say!(
                "clean and roughen the face of the dolly and degrease the spot as the data sheet of the glue says, glue it on flat, wipe off \
                 what squeezes out, and hold it still until it has set"
            ),
        ),
    ]
}

/// The patches that a measure is read on, where its name does not say so.
pub(super) fn on_patch(study: &Study, id: MeasureId) -> Option<String> {
    let measure = study.measure(id);
    let set = measure.home.filter(|set| measure.of.is_none() && study.specimens[set.index()].patch)?;
    let name = study.specimens[set.index()].name.value.as_str();
    let drawn = study.patches.as_ref()?.drawn.iter().filter(|patch| patch.word == name);
    let codes: Vec<String> = drawn.map(|patch| format!("{} ({name})", patch.code)).collect();
    (!codes.is_empty()).then(|| list(&codes, "and"))
}

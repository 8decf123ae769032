//! The record of the preparation: each step as planned and as done, with what was read at it.

use super::blocks::{Part, Table};
use super::checklist::{About, facts, only_on, section_list, title, verb};
use super::material::Material;
use super::names;
use super::numbers::{self, Figure, Style};
use super::safety::labels;
use crate::readings::{Apart, ApartCell};
use crate::speech::{self, count, say};
use crate::study::{Done, DoneWhat, Step, Study};
use jiff::civil::Time as ClockTime;

pub(super) fn part(material: &Material<'_>) -> Part {
    let (study, catalog) = (material.study, material.catalog);
    let mut part = Part::new(say!("How the panel was prepared"));
    if study.prep.is_empty() {
        part.say(say!("The study states no preparation."));
        return part;
    }
    let is_step = |done: &&Done| done.is_of_work() && matches!(done.what, DoneWhat::Prep(_));
    let records = || study.done.iter().filter(is_step);
    let planned: Vec<(&Step, Vec<&Done>)> = study.prep.iter().zip(study.recorded_steps()).collect();
    let read = prep_readings(material);
    let (recorded, _) = self::recorded(material);
    let of_steps: usize = planned.iter().map(|(_, done)| done.len()).sum();
    part.say(say!(
        "Every step in its order, as planned. {recorded} of {steps} recorded as done{further}.",
        recorded,
        steps = count(planned.len(), "step"),
        further = if records().count() > of_steps { say!("; further records stand below") } else { "" }
    ));
    let mut table = Table::new(&[">", say!("Step"), say!("As planned"), say!("As done")]);
    for (at, (step, done)) in planned.iter().enumerate() {
        table.row(vec![
            Figure::from((at + 1).to_string()),
            Figure::from(title(study, step)),
            Figure::from(facts_line(study, step)),
            Figure::from(as_done(study, done, &read[at])),
        ]);
    }
    part.table(table);
    part.list(further_records(study));
    let labels = labels(catalog, study);
    if !labels.is_empty() {
        part.say(say!("The label of each thing that is used; safety-cards.html has the card of each."));
        part.list(labels);
    }
    for step in &study.prep {
        part.quote(&step.prose);
    }
    part
}

/// The steps that are on record or were read, and all of them.
pub(super) fn recorded(material: &Material<'_>) -> (usize, usize) {
    let read = prep_readings(material);
    let steps = material.study.recorded_steps();
    let is_recorded = |(at, done): &(usize, &Vec<&Done>)| !done.is_empty() || !read[*at].is_empty();
    (steps.iter().enumerate().filter(is_recorded).count(), steps.len())
}

fn as_done(study: &Study, done: &[&Done], read: &[String]) -> String {
    let words = done.iter().map(|done| done_words(study, done)).chain(read.iter().cloned());
    let words: Vec<String> = words.collect();
    if words.is_empty() { say!("no record").to_owned() } else { words.join("; ") }
}

/// What was read at each step of the preparation, a text for each measure; none at a step that reads nothing.
fn prep_readings(material: &Material<'_>) -> Vec<Vec<String>> {
    let mut reads = 0;
    let of = |at: usize| {
        let own = material.readings.apart().iter().filter(move |apart| apart.at == Apart::Prep(at));
        own.map(|apart| words_of(material, apart)).collect()
    };
    let texts = material.study.prep.iter().map(|step| {
        let at = step.measure.as_ref().map(|_| reads);
        reads += usize::from(at.is_some());
        at.map_or_else(Vec::new, of)
    });
    texts.collect()
}

/// Of more readings than this only the lowest and the highest are told.
const MOST_VALUES: usize = 12;

/// `2025-04-07; 118 121 117 um; 3 readings, mean 118.7 um`.
fn words_of(material: &Material<'_>, apart: &ApartCell) -> String {
    let style = Style::of(material, apart.measure());
    let readings = material.readings.of_apart(apart);
    let typed = readings.map(|reading| speech::marked(&material.as_typed(&reading)));
    let typed: Vec<String> = typed.filter(|typed| !typed.is_empty()).collect();
    let summary = apart.numbers();
    let values = if typed.len() > MOST_VALUES && summary.n > 0 {
        numbers::with_unit(
            &say!("{low} to {high}", low = style.bare(summary.min), high = style.bare(summary.max)),
            style.unit,
        )
    } else {
        numbers::with_unit(&typed.join(" "), style.unit)
    };
    let mean = summary.mean().filter(|_| typed.len() > 1);
    // One more figure than the readings have, so that what was lost between two of them can be taken from them.
    let finer = Style { decimals: style.decimals + 1, ..style };
    let mean = mean.map(|mean| say!("mean {mean}", mean = finer.value(mean).text));
    let words =
        [Some(count(typed.len(), "reading")), mean].into_iter().flatten().collect::<Vec<String>>().join(", ");
    let days = apart.dates().map(|(first, last)| {
        if first == last {
            numbers::day(first)
        } else {
            say!("{first} to {last}", first = numbers::day(first), last = numbers::day(last))
        }
    });
    days.into_iter().chain([values, words]).collect::<Vec<String>>().join("; ")
}

fn further_records(study: &Study) -> Vec<String> {
    let known = study.recorded_steps();
    let of_steps = |done: &Done| known.iter().flatten().any(|known| std::ptr::eq(*known, done));
    let left = study.done.iter().filter(|done| done.is_of_work() && !of_steps(done));
    left.filter_map(|done| {
        let DoneWhat::Prep(known) = &done.what else { return None };
        Some(format!("{}: {}", verb(*known), done_words(study, done)))
    })
    .collect()
}

/// What is on record of the steps before rounds and of upkeep, one text for each kind of them.
pub(super) fn care_records(study: &Study) -> Vec<String> {
    let mut care: Vec<(String, Vec<String>)> = Vec::new();
    for done in study.done.iter().filter(|done| done.is_care()) {
        let DoneWhat::Prep(known) = &done.what else { continue };
        let when = done.ahead.map_or_else(
            || say!("upkeep").to_owned(),
            |round| say!("before {round}", round = names::round(study, round)),
        );
        let name = format!("{}, {when}", verb(*known));
        let words = done_words(study, done);
        match care.iter_mut().find(|(own, _)| *own == name) {
            Some((_, days)) => days.push(words),
            None => care.push((name, vec![words])),
        }
    }
    care.into_iter()
        .map(|(name, days)| say!("On record: {what}: {days}", what = name, days = days.join("; ")))
        .collect()
}

/// What a record says, in one line.
pub(super) fn done_words(study: &Study, done: &Done) -> String {
    let mut words = vec![numbers::day(done.date.value)];
    let hour = |time: ClockTime| format!("{:02}:{:02}", time.hour(), time.minute());
    words.extend(match (done.time, done.until) {
        (Some(began), Some(ended)) => {
            Some(say!("{first} to {last}", first = hour(began), last = hour(ended)))
        }
        (Some(one), None) | (None, Some(one)) => Some(hour(one)),
        (None, None) => None,
    });
    if !done.sections.is_empty() {
        let codes: Vec<&str> = done.sections.iter().map(|&id| names::section(study, id)).collect();
        words.push(say!("on {section}", section = section_list(&codes)));
    }
    words.extend(done.used.map(|used| say!("used {used}", used = numbers::amount(&used))));
    words.extend(done.at.map(|at| say!("at {at}", at = numbers::amount(&at))));
    words.extend(done.humidity.map(|humidity| numbers::amount(&humidity)));
    words.extend(done.surface.map(|surface| say!("surface {surface}", surface = numbers::amount(&surface))));
    words.extend(done.above_dew_point_deg_c().map(|above| above_dew_point(done, above)));
    words.extend(done.by.as_ref().map(|by| say!("by {by}", by)));
    let words = words.join(", ");
    match &done.because {
        Some(because) => format!("{words} ({because})"),
        None => words,
    }
}

// A difference in the degrees that the record is written in: 1 degC of difference is 1.8 degF.
fn above_dew_point(done: &Done, deg_c: f64) -> String {
    let fahrenheit = done.surface.is_some_and(|surface| surface.any().unit.symbol == "degF");
    let (above, unit) = if fahrenheit { (deg_c * 1.8, "degF") } else { (deg_c, "degC") };
    let (far, unit) = (numbers::fixed(above.abs(), 1), speech::unit(unit));
    if above > 0.0 {
        say!("{above} {unit} above the dew point", unit, above = far)
    } else {
        say!("{below} {unit} below the dew point: the surface was wet", unit, below = far)
    }
}

/// The facts of a step in one line.
pub(super) fn facts_line(study: &Study, step: &Step) -> String {
    let words = facts(study, step).into_iter().map(|fact| match fact.about {
        About::Supply | About::Mix | About::Tool | About::Time => fact.text,
        About::StaysOn => {
            let time = step.wait.map_or_else(String::new, |time| numbers::amount(&time));
            say!("stays on {time}", time)
        }
        About::Times => say!("{n} times", n = fact.text),
        About::Places => say!("at {places}", places = fact.text),
        About::Cloth => say!("a fresh cloth each time").to_owned(),
        About::Rinse => say!("rinse").to_owned(),
        About::Dwell => say!("dwell {time}", time = fact.text),
        About::Grit => say!("grit {grit}", grit = fact.text),
        About::Readings => say!("{n} at each place", n = count(step.times as usize, "reading")),
        About::Lines => say!("lines {width}", width = fact.text),
        About::Wait => say!("wait {time}", time = fact.text),
    });
    words.chain(only_on(study, step)).collect::<Vec<String>>().join("; ")
}

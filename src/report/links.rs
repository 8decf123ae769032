//! Links: from each claim of the answer to its table, and from each table to the readings behind it.

use super::answer::AnswerView;
use super::blocks::{Link, Part, Topic};
use super::claim::Claim;
use super::material::Material;
use super::table::Ranges;
use super::{glossary, names, table};
use crate::markup::Places;
use crate::speech::say;
use crate::study::{MeasureId, MeasureKind, RoundId};

/// Gives every part its place on the page, and ties claims to parts and parts to readings.
pub(super) fn tie(material: &Material<'_>, title: &str, answer: &mut AnswerView, parts: &mut [Part]) {
    let mut places = Places::new();
    places.of(title);
    places.of(&answer.headline);
    for part in parts.iter_mut() {
        part.place = places.of(&part.heading);
    }
    for claim in answer.paragraphs.iter_mut().chain(&mut answer.footing) {
        claim.place = place(parts, claim);
    }
    glossary::explain(answer, parts);
    let lines = table::ranges(material);
    let readings: Vec<Vec<Link>> = parts.iter().map(|part| links(material, &lines, parts, part)).collect();
    for (part, readings) in parts.iter_mut().zip(readings) {
        part.readings = readings;
    }
}

/// Where the table of a claim stands; a claim on products stands on their change where nothing is compared.
fn place(parts: &[Part], claim: &Claim) -> String {
    let of = |topic: Topic| parts.iter().find(|part| part.topic == Some(topic));
    let found = claim.topic.and_then(|topic| {
        let next = match topic {
            Topic::Lead | Topic::Shared | Topic::Benchmark => of(Topic::Bare),
            _ => None,
        };
        of(topic).or(next).or_else(|| of(Topic::Change)).or_else(|| of(Topic::Rounds))
    });
    found.map_or_else(String::new, |part| part.place.clone())
}

/// The readings that the tables of a part are made from, measure by measure: in the page, else in the file.
fn links(material: &Material<'_>, lines: &Ranges, parts: &[Part], part: &Part) -> Vec<Link> {
    let mut read: Vec<(MeasureId, RoundId)> = Vec::new();
    for &(measure, round) in &part.from {
        for measure in parts_of(material, measure) {
            if !read.contains(&(measure, round)) {
                read.push((measure, round));
            }
        }
    }
    read.sort_unstable();
    let mut last = None;
    let links = read.into_iter().filter_map(|(measure, round)| {
        let &(first, end) = lines.get(&(measure, round))?;
        let (name, at) = (names::measure(material.study, measure), names::round(material.study, round));
        let words = if last == Some(measure) {
            at.into_owned()
        } else {
            say!("{measure} at {round}", measure = name, round = at)
        };
        last = Some(measure);
        let here = parts.iter().find(|part| part.topic == Some(Topic::Readings(measure, round)));
        Some(match here {
            Some(part) => Link { words, place: part.place.clone(), file: String::new() },
            // A row of a table of values is named by its number (RFC 7111); the head is the first.
            None => Link {
                words: say!("{words} (readings.csv, lines {first} to {end})", words, first, end),
                place: String::new(),
                file: format!("readings.csv#row={first}-{end}"),
            },
        })
    });
    links.collect()
}

/// A measure that is made of others is never read itself.
fn parts_of(material: &Material<'_>, measure: MeasureId) -> Vec<MeasureId> {
    match &material.study.measure(measure).kind {
        MeasureKind::Made(made) => made.parts.clone(),
        _ => vec![measure],
    }
}

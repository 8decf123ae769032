//! The contact sheet as a view: a row a section, a column a round, the same order every time, and what is missing.

use super::material::Material;
use super::names;
use crate::photos::Photo;
use crate::speech::{count, list, say, speak};
use crate::study::{RoundId, Section, SectionId};
use serde::Serialize;
use std::collections::BTreeSet;

/// The contact sheet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotosView<'a> {
    /// Title of the study.
    pub title: String,
    /// What it shows, with how many photos of how many sections at which rounds.
    pub headline: String,
    /// The rounds with photos, in order of the study.
    pub rounds: Vec<String>,
    /// A row for each section.
    pub rows: Vec<PhotoRow>,
    /// What was not taken, a sentence for each round.
    pub missing: Vec<String>,
    /// The day of the page: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
    /// Every file of the sheet with its bytes.
    #[serde(skip)]
    pub files: Vec<(String, &'a Photo)>,
}

/// A row: one section.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotoRow {
    /// Its code.
    pub code: String,
    /// What it carries.
    pub name: String,
    /// In the order of [`PhotosView::rounds`].
    pub cells: Vec<PhotoCell>,
}

/// A section at a round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotoCell {
    /// The photos.
    pub shots: Vec<Shot>,
    /// What stands where there is none: `missing`, or that the section had ended.
    pub none: String,
}

/// A photo on the page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Shot {
    /// Its file.
    pub file: String,
    /// What it is, in words.
    pub words: String,
    /// Its width in pixels.
    pub width: u32,
    /// Its height.
    pub height: u32,
}

/// Makes the contact sheet; `None` where the study names no folder of photos.
pub fn photos<'a>(material: &Material<'a>) -> Option<PhotosView<'a>> {
    let _speech = speak(material.study.language);
    let study = material.study;
    study.photos.as_ref()?;
    let files = files(material);
    let taken = |round: RoundId| files.iter().any(|(_, photo)| photo.round == round);
    let rounds: Vec<RoundId> = study.rounds_with_ids().map(|(id, _)| id).filter(|&id| taken(id)).collect();
    let rows: Vec<PhotoRow> = study
        .sections_with_ids()
        .map(|(id, section)| PhotoRow {
            code: section.code.clone(),
            name: names::treatment(study, section.treatment),
            cells: rounds.iter().map(|&round| cell(material, &files, (id, section), round)).collect(),
        })
        .collect();
    let missing = missing(material, &files, &rounds);
    let shown: BTreeSet<SectionId> = files.iter().map(|(_, photo)| photo.section).collect();
    Some(PhotosView {
        title: study.title.value.clone(),
        headline: say!(
            "{photos}, of {shown} of {sections} at {rounds}",
            photos = count(files.len(), "photo"),
            shown = shown.len(),
            sections = count(study.sections.len(), "section"),
            rounds = count(rounds.len(), "round")
        ),
        rounds: rounds.iter().map(|&id| names::round(study, id).into_owned()).collect(),
        rows,
        missing,
        as_of: material.as_of(),
        version: material.version.to_owned(),
        files,
    })
}

/// Every photo with the name of its file beside the page: section, round, and a number from the second shot on.
fn files<'a>(material: &Material<'a>) -> Vec<(String, &'a Photo)> {
    let study = material.study;
    let mut files: Vec<(String, &Photo)> = Vec::new();
    for photo in &material.photos.all {
        let place = (photo.section, photo.round);
        let number = files.iter().filter(|(_, other)| (other.section, other.round) == place).count() + 1;
        let words =
            format!("{} {}", names::section(study, photo.section), names::round_written(study, photo.round));
        let stem: String = words.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
        let number = if number > 1 { format!("-{number}") } else { String::new() };
        // Codes that differ in other letters only would share a name.
        let same = |name: &str| files.iter().any(|(other, _)| other == name);
        let name = format!("photos/{stem}{number}.{}", photo.kind.ending());
        let name = if same(&name) {
            format!("photos/{stem}{number}-of-{}.{}", photo.section.index() + 1, photo.kind.ending())
        } else {
            name
        };
        files.push((name, photo));
    }
    files
}

fn cell(
    material: &Material<'_>,
    files: &[(String, &Photo)],
    (id, section): (SectionId, &Section),
    round: RoundId,
) -> PhotoCell {
    let study = material.study;
    let own = files.iter().filter(|(_, photo)| (photo.section, photo.round) == (id, round));
    let carries = names::treatment(study, section.treatment);
    let shot = |(file, photo): &(String, &Photo)| {
        let (width, height) = photo.copy_size();
        let words = say!(
            "{code}, {carries}, at {round}",
            carries,
            code = section.code,
            round = names::round(study, round)
        );
        Shot { file: file.clone(), words, width, height }
    };
    let none = if has_ended(material, id, round) { say!("ended") } else { say!("missing") };
    PhotoCell { shots: own.map(shot).collect(), none: none.to_owned() }
}

fn has_ended(material: &Material<'_>, section: SectionId, round: RoundId) -> bool {
    let read = names::round_day(material.study, material.readings, round);
    let day = read.or_else(|| material.study.round(round).date());
    material.study.ended(section).zip(day).is_some_and(|(end, day)| day >= end)
}

/// Sections without a photo at rounds that have some, and rounds that were read and have none.
fn missing(material: &Material<'_>, files: &[(String, &Photo)], rounds: &[RoundId]) -> Vec<String> {
    let study = material.study;
    let lacks = |id: SectionId, round: RoundId| {
        !files.iter().any(|(_, photo)| (photo.section, photo.round) == (id, round))
            && !has_ended(material, id, round)
    };
    let mut sentences: Vec<String> = Vec::new();
    for &round in rounds {
        let sections = study.sections_with_ids().filter(|&(id, _)| lacks(id, round));
        let codes: Vec<&str> = sections.map(|(_, section)| section.code.as_str()).collect();
        if !codes.is_empty() {
            sentences.push(format!("{}: {}.", names::round(study, round), list(&codes, "and")));
        }
    }
    let read = |id: RoundId| material.readings.cells().iter().any(|cell| cell.round == id);
    let without = study.rounds_with_ids().filter(|&(id, _)| read(id) && !rounds.contains(&id));
    let without: Vec<_> = without.map(|(id, _)| names::round(study, id)).collect();
    if !without.is_empty() {
        sentences.push(say!("No photo of any section at {without}.", without = list(&without, "or")));
    }
    sentences
}

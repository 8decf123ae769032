//! The comparison report as a view: a masthead, the answer, and parts in a fixed order.

use super::answer::{AnswerView, answer};
use super::blocks::{Block, Part, Picture, Topic};
use super::comparison::{self, Ranking};
use super::map_picture::map_picture;
use super::material::Material;
use super::{appendix, by_piece, glossary, limits, links, method, panel, record};
use crate::analysis::Answer;
use crate::speech::{say, speak};
use crate::study::Study;
use serde::Serialize;

/// The report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReportView {
    /// Title of the study.
    pub title: String,
    /// Who, when, what panel: one line.
    pub byline: String,
    /// The question that the study asks; empty where it asks none.
    pub question: String,
    /// Prose of the study, Markdown.
    pub prose: String,
    /// The answer.
    pub answer: AnswerView,
    /// The picture that shows the answer, right below it, under the heading of the part that has its numbers.
    pub shown: Option<Shown>,
    /// All further parts in order.
    pub parts: Vec<Part>,
    /// The day of the report: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
}

/// A picture that stands away from the part that it belongs to.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Shown {
    /// Heading of that part.
    pub heading: String,
    /// The picture.
    pub picture: Picture,
}

impl ReportView {
    /// Every picture in order, each with the heading of its part.
    pub fn pictures(&self) -> impl Iterator<Item = (&str, &Picture)> {
        let first = self.shown.iter().map(|shown| (shown.heading.as_str(), &shown.picture));
        let others = self.parts.iter().flat_map(|part| {
            let pictures = part.blocks.iter().filter_map(|block| match block {
                Block::Picture(picture) => Some(picture),
                _ => None,
            });
            pictures.map(|picture| (part.heading.as_str(), picture))
        });
        first.chain(others)
    }

    /// The picture of an address.
    pub fn picture(&self, address: &str) -> Option<&Picture> {
        self.pictures().map(|(_, picture)| picture).find(|picture| picture.address == address)
    }
}

/// Makes the report.
pub fn report(material: &Material<'_>) -> ReportView {
    let _speech = speak(material.study.language);
    let study = material.study;
    let ranking = Ranking::of(material);
    let mut parts = vec![map_part(material)];
    let mut change = comparison::change(material, &ranking).into_iter();
    parts.extend(change.next().map(|part| part.about(Topic::Change)));
    parts.extend(change);
    parts.extend(comparison::on_panel(material));
    let mut against_bare = comparison::to_bare(material, &ranking).map(|part| part.about(Topic::Bare));
    let shown = against_bare.as_mut().filter(|_| is_read(material)).and_then(taken_out);
    parts.extend(against_bare);
    parts.extend(comparison::to_productless(material, &ranking));
    parts.extend(by_piece::part(material, &ranking));
    parts.extend(comparison::adjusted(material, &ranking));
    parts.extend(comparison::exchange(material));
    parts.extend(comparison::lead(material, &ranking).map(|part| part.about(Topic::Lead)));
    parts.extend(comparison::lead_shared(material, &ranking));
    parts.extend(comparison::chances(material, &ranking));
    parts.extend(comparison::pairs(material, &ranking));
    parts.extend(comparison::turned_pairs(material));
    let to_benchmark = comparison::to_benchmark(material, &ranking);
    parts.extend(to_benchmark.map(|part| part.about(Topic::Benchmark)));
    parts.extend(comparison::ratings(material, &ranking));
    parts.extend(comparison::further(material, &ranking));
    parts.extend(comparison::held(material, &ranking));
    parts.extend(comparison::over_time(material, &ranking));
    parts.extend(comparison::spent(material, &ranking));
    parts.extend(comparison::cost(material, &ranking));
    parts.extend(panel::parts(material));
    parts.extend(record::parts(material, &ranking));
    parts.push(limits::limits(material));
    parts.extend(method::method(material));
    parts.extend(comparison::other_pairs(material, &ranking));
    parts.extend(comparison::other_runs(material, &ranking));
    let mut answer = answer(material);
    parts.extend(glossary::part(&answer, &parts));
    parts.extend(appendix::parts(material));
    links::tie(material, &study.title.value, &mut answer, &mut parts);
    ReportView {
        title: study.title.value.clone(),
        byline: byline(material, study),
        question: study.question.clone().unwrap_or_default(),
        prose: study.prose.clone(),
        answer,
        shown,
        parts,
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

/// Before the deciding round is read no picture stands as the answer.
fn is_read(material: &Material<'_>) -> bool {
    matches!(material.analysis.answer, Answer::Read { .. })
}

/// The picture of a part, which says in its place where the picture stands.
fn taken_out(part: &mut Part) -> Option<Shown> {
    let at = part.blocks.iter().position(|block| matches!(block, Block::Picture(_)))?;
    let text = say!("The picture below the answer shows these differences.").to_owned();
    match std::mem::replace(&mut part.blocks[at], Block::Paragraph { text }) {
        Block::Picture(picture) => Some(Shown { heading: part.heading.clone(), picture }),
        _ => None,
    }
}

fn byline(material: &Material<'_>, study: &Study) -> String {
    let author = study.author.clone();
    let panel = study.surface.material.as_ref().map(|material| material.value.clone());
    let words = [author, panel, Some(material.as_of())];
    words.into_iter().flatten().collect::<Vec<String>>().join(" · ")
}

fn map_part(material: &Material<'_>) -> Part {
    let mut part = Part::new(say!("The panel"));
    part.picture(map_picture(material));
    let reasons = material.study.surface.avoid.iter().chain(&material.study.surface.curved);
    let reasons = reasons.filter_map(|area| Some((area.name.value.as_str(), area.because.as_deref()?)));
    part.list(reasons.map(|(name, why)| say!("Kept clear of {name}: {why}.", name, why)).collect());
    part.quote(&material.study.surface.prose);
    part
}

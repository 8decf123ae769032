//! The comparison report as a view: a masthead, the answer, and parts in a fixed order.

use super::answer::{AnswerView, answer};
use super::blocks::{Block, Drawing, Part, Picture, Topic};
use super::comparison::{self, Ranking};
use super::material::Material;
use super::{appendix, limits, links, map, method, panel, record};
use crate::study::{Study, Treatment};
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
    /// All further parts in order.
    pub parts: Vec<Part>,
    /// The day of the report: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
}

impl ReportView {
    /// The picture of an address.
    pub fn picture(&self, address: &str) -> Option<&Picture> {
        let blocks = self.parts.iter().flat_map(|part| &part.blocks);
        let pictures =
            blocks.filter_map(|block| if let Block::Picture(picture) = block { Some(picture) } else { None });
        pictures.into_iter().find(|picture| picture.address == address)
    }
}

/// Makes the report.
pub fn report(material: &Material<'_>) -> ReportView {
    let study = material.study;
    let ranking = Ranking::of(material);
    let mut parts = vec![map_part(material)];
    let mut change = comparison::change(material, &ranking).into_iter();
    parts.extend(change.next().map(|part| part.about(Topic::Change)));
    parts.extend(change);
    parts.extend(comparison::on_panel(material));
    parts.extend(comparison::to_bare(material, &ranking).map(|part| part.about(Topic::Bare)));
    parts.extend(comparison::adjusted(material, &ranking));
    parts.extend(comparison::exchange(material));
    parts.extend(comparison::lead(material, &ranking).map(|part| part.about(Topic::Lead)));
    parts.extend(comparison::chances(material, &ranking));
    parts.extend(comparison::pairs(material, &ranking));
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
    parts.extend(appendix::parts(material));
    let mut answer = answer(material);
    links::tie(material, &study.title.value, &mut answer, &mut parts);
    ReportView {
        title: study.title.value.clone(),
        byline: byline(material, study),
        question: study.question.clone().unwrap_or_default(),
        prose: study.prose.clone(),
        answer,
        parts,
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

fn byline(material: &Material<'_>, study: &Study) -> String {
    let author = study.author.clone();
    let panel = study.surface.material.as_ref().map(|material| material.value.clone());
    let words = [author, panel, Some(material.as_of())];
    words.into_iter().flatten().collect::<Vec<String>>().join(" · ")
}

fn map_part(material: &Material<'_>) -> Part {
    let view = map(material);
    let mut part = Part::new("The panel");
    part.picture(Picture {
        address: "map.svg".to_owned(),
        title: format!("{}.", view.title),
        note: map_note(material.study),
        drawing: Drawing::Map(Box::new(view)),
    });
    let reasons = material.study.surface.avoid.iter().chain(&material.study.surface.curved);
    let reasons = reasons.filter_map(|area| Some((area.name.value.as_str(), area.because.as_deref()?)));
    part.list(reasons.map(|(name, why)| format!("Kept clear of {name}: {why}.")).collect());
    part.quote(&material.study.surface.prose);
    part
}

fn map_note(study: &Study) -> String {
    let bare = study.sections_of(Treatment::Bare).next().is_some();
    let kinds = [
        (bare, "hatched in grey: bare sections"),
        (!study.surface.avoid.is_empty(), "dark hatch: avoided"),
        (!study.surface.curved.is_empty(), "lines: curved"),
    ];
    let kinds: Vec<&str> = kinds.into_iter().filter(|(there, _)| *there).map(|(_, words)| words).collect();
    let scale = if study.is_on_racks() { "The order on the rack, not to scale" } else { "To scale" };
    if kinds.is_empty() { format!("{scale}.") } else { format!("{scale}; {}.", kinds.join("; ")) }
}

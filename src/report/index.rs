//! The index page as a view: what was built, in a line each.

use super::answer::AnswerView;
use super::appendix;
use super::claim::Claim;
use super::material::Material;
use crate::speech::speak;
use serde::Serialize;

/// The index.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct IndexView {
    /// Title of the study.
    pub title: String,
    /// The question that the study asks; empty where it asks none.
    pub question: String,
    /// The headline of the answer.
    pub headline: String,
    /// The paragraphs of the answer, each with the place of its table in the report.
    pub paragraphs: Vec<Claim>,
    /// How many findings are left, in words.
    pub findings: String,
    /// The day of the pages: `as of 2026-04-13`.
    pub as_of: String,
    /// Version of the tool.
    pub version: String,
}

/// Makes the index with the answer of the report, whose sentences know their tables.
pub fn index(material: &Material<'_>, answer: &AnswerView) -> IndexView {
    let _speech = speak(material.study.language);
    IndexView {
        title: material.study.title.value.clone(),
        question: material.study.question.clone().unwrap_or_default(),
        headline: answer.headline.clone(),
        paragraphs: answer.paragraphs.clone(),
        findings: appendix::finding_count(material.findings),
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

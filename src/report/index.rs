//! The index page as a view: what was built, in a line each.

use super::appendix;
use super::claim::Claim;
use super::material::Material;
use super::paper::report;
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

/// Makes the index.
pub fn index(material: &Material<'_>) -> IndexView {
    let _speech = speak(material.study.language);
    let answer = report(material).answer;
    IndexView {
        title: material.study.title.value.clone(),
        question: material.study.question.clone().unwrap_or_default(),
        headline: answer.headline,
        paragraphs: answer.paragraphs,
        findings: appendix::finding_count(material.findings),
        as_of: material.as_of(),
        version: material.version.to_owned(),
    }
}

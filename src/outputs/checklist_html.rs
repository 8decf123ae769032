//! `checklist.html`: the steps to tick, each with its safety box, made for paper.

use super::engine::{Frame, Template, page, render, value};
use super::fault::Fault;
use super::signs::signs;
use crate::report::{Material, checklist};

const BODY: Template =
    Template { name: "checklist.html", source: include_str!("../../templates/checklist.html") };
const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/checklist.css"));

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let view = checklist(material);
    let title = format!("Prep checklist: {}", view.study);
    let foot = format!("{} · checklist {} · tapeline {}", view.study, view.as_of, view.version);
    let steps = view.groups.iter().flat_map(|group| &group.steps);
    let (symbols, signs) = signs(steps.filter_map(|step| step.card.as_ref()));
    let body = render(BODY, minijinja::context! { view => value(&view), symbols, signs })?;
    page(Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false }, body)
}

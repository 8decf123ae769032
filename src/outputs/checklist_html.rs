//! `checklist.html`: the steps to tick, each with its safety box, made for paper.

use super::desk::Desk;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::pictures::figure;
use super::signs::signs;
use super::templates::CHECKLIST;
use crate::report::checklist;
use crate::speech::{say, speak};
use minijinja::Value;

const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/checklist.css"));

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = checklist(material);
    let (study, as_of, version) = (&view.study, &view.as_of, &view.version);
    let title = say!("Prep checklist: {study}", study);
    let foot = say!("{study} · checklist {as_of} · tapeline {version}", study, as_of, version);
    let steps = view.groups.iter().flat_map(|group| &group.steps);
    let cards = steps.flat_map(|step| &step.cards);
    let (symbols, signs) = signs(cards.chain(view.labels.iter().map(|label| &label.card)));
    let pictures: Vec<Option<Value>> = view
        .groups
        .iter()
        .map(|group| group.picture.as_ref().map(|one| Value::from_safe_string(figure(one))))
        .collect();
    let body =
        render(material, CHECKLIST, &minijinja::context! { view => value(&view), symbols, signs, pictures })?;
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        &body,
    )
}

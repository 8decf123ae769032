//! `checklist.html`: the steps to tick, each with its safety box, made for paper.

use super::desk::Desk;
use super::engine::{Frame, english_note, page, render, value};
use super::fault::Fault;
use super::pictures::figure;
use super::signs::signs;
use super::templates::CHECKLIST;
use crate::report::checklist;
use minijinja::Value;

const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/checklist.css"));

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let view = checklist(material);
    let title = format!("Prep checklist: {}", view.study);
    let foot = format!("{} · checklist {} · tapeline {}", view.study, view.as_of, view.version);
    let steps = view.groups.iter().flat_map(|group| &group.steps);
    let cards = steps.filter_map(|step| step.card.as_ref());
    let (symbols, signs) = signs(cards.chain(view.labels.iter().map(|label| &label.card)));
    let pictures: Vec<Option<Value>> = view
        .groups
        .iter()
        .map(|group| group.picture.as_ref().map(|one| Value::from_safe_string(figure(one))))
        .collect();
    let body =
        render(material, CHECKLIST, &minijinja::context! { view => value(&view), symbols, signs, pictures })?;
    let body = format!("{}{body}", english_note(material));
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        body,
    )
}

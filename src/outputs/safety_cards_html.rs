//! `safety-cards.html`: a card for each chemical of the study, made for paper like the checklist.

use super::desk::Desk;
use super::engine::{Frame, english_note, page, render, value};
use super::fault::Fault;
use super::signs::signs;
use super::templates::SAFETY_CARDS;
use crate::report::safety;

const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/safety-cards.css"));

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let view = safety(material);
    let title = format!("Safety cards: {}", view.study);
    let foot = format!("{} · safety cards {} · tapeline {}", view.study, view.as_of, view.version);
    let (symbols, signs) = signs(view.cards.iter());
    let body = render(material, SAFETY_CARDS, &minijinja::context! { view => value(&view), symbols, signs })?;
    let body = format!("{}{body}", english_note(material));
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        body,
    )
}

//! `safety-cards.html`: a card for each chemical of the study, made for paper like the checklist.

use super::desk::Desk;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::signs::signs;
use super::templates::SAFETY_CARDS;
use crate::report::safety;
use crate::speech::{say, speak};

const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/safety-cards.css"));

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = safety(material);
    let (study, as_of, version) = (&view.study, &view.as_of, &view.version);
    let title = say!("Safety cards: {study}", study);
    let foot = say!("{study} · safety cards {as_of} · tapeline {version}", study, as_of, version);
    let (symbols, signs) = signs(view.cards.iter());
    let body = render(material, SAFETY_CARDS, &minijinja::context! { view => value(&view), symbols, signs })?;
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        &body,
    )
}

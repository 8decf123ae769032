//! `labels.html`: a label for each section and specimen, to cut out; made for paper.

use super::desk::Desk;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::templates::LABELS;
use crate::report::labels;
use crate::speech::{say, speak};

const STYLE: &str = include_str!("../../templates/labels.css");

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = labels(material);
    let (study, as_of, version) = (&view.study, &view.as_of, &view.version);
    let title = say!("Labels: {study}", study);
    let foot = say!("{study} · labels {as_of} · tapeline {version}", study, as_of, version);
    let body = render(material, LABELS, &minijinja::context! { view => value(&view) })?;
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        &body,
    )
}

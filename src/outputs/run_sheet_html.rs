//! `run-sheet.html`: the application by the clock, made for paper like the checklist.

use super::desk::Desk;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::templates::RUN_SHEET;
use crate::report::run_sheet;
use crate::speech::{say, speak};

const STYLE: &str =
    concat!(include_str!("../../templates/card.css"), include_str!("../../templates/run-sheet.css"));

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = run_sheet(material);
    let (study, as_of, version) = (&view.study, &view.as_of, &view.version);
    let title = say!("Run sheet: {study}", study);
    let foot = say!("{study} · run sheet {as_of} · tapeline {version}", study, as_of, version);
    let body = render(material, RUN_SHEET, &minijinja::context! { view => value(&view) })?;
    page(
        material,
        Frame { title: &title, foot: &foot, style: STYLE, script: "", photos: false, own: false },
        &body,
    )
}

//! `index.html`: what was built, in a line each, and the answer.

use super::desk::Desk;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::files::{FILES, INDEX, PHOTOS};
use super::templates::INDEX as BODY;
use crate::report::index;
use crate::speech::{said, speak};

const STYLE: &str = include_str!("../../templates/index.css");

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = index(material, &desk.report().answer);
    let photos = material.study.photos.is_some().then_some(&PHOTOS);
    let others = FILES.iter().filter(|file| **file != INDEX).chain(photos);
    let files: Vec<_> =
        others.map(|file| minijinja::context! { name => file.name, what => said(file.what) }).collect();
    let body = render(material, BODY, &minijinja::context! { view => value(&view), files })?;
    let foot = format!("{} · {} · tapeline {}", view.title, view.as_of, view.version);
    page(
        material,
        Frame { title: &view.title, foot: &foot, style: STYLE, script: "", photos: false, own: true },
        &body,
    )
}

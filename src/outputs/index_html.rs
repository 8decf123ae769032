//! `index.html`: what was built, in a line each, and the answer.

use super::engine::{Frame, Template, page, render, value};
use super::fault::Fault;
use super::files::{FILES, INDEX, PHOTOS};
use crate::report::{Material, index};

const BODY: Template = Template { name: "index.html", source: include_str!("../../templates/index.html") };
const STYLE: &str = include_str!("../../templates/index.css");

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let view = index(material);
    let photos = material.study.photos.is_some().then_some(&PHOTOS);
    let others = FILES.iter().filter(|file| **file != INDEX).chain(photos);
    let files: Vec<_> =
        others.map(|file| minijinja::context! { name => file.name, what => file.what }).collect();
    let body = render(BODY, minijinja::context! { view => value(&view), files })?;
    let foot = format!("{} · {} · tapeline {}", view.title, view.as_of, view.version);
    page(Frame { title: &view.title, foot: &foot, style: STYLE, script: "", photos: false }, body)
}

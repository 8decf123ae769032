//! `index.html`: what was built, in a line each, and the answer.

use super::engine::{Frame, Template, page, render, value};
use super::{Fault, OUTPUTS};
use crate::report::{Material, index};

const BODY: Template = Template { name: "index.html", source: include_str!("../../templates/index.html") };
const STYLE: &str = include_str!("../../templates/index.css");

pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let view = index(material);
    let others = OUTPUTS.iter().filter(|output| output.name != "index.html");
    let files: Vec<_> =
        others.map(|output| minijinja::context! { name => output.name, what => output.what }).collect();
    let body = render(BODY, minijinja::context! { view => value(&view), files })?;
    let foot = format!("{} · {} · tapeline {}", view.title, view.date, view.version);
    page(Frame { title: &view.title, foot: &foot, style: STYLE }, body)
}

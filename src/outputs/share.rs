//! Pictures to pass on: every picture of the report as a file by itself, in three formats, with what it needs to be understood.

use super::Artifact;
use super::engine::own_style;
use super::fault::Fault;
use super::pictures::{Around, card};
use crate::report::{Drawing, Material, report};
use crate::speech::speak;

/// Ending of the name, width and height in pixels.
const FORMATS: [(&str, (f64, f64)); 3] =
    [("square", (1080.0, 1080.0)), ("wide", (1200.0, 630.0)), ("tall", (1080.0, 1350.0))];

/// Every picture of the report, three files each.
///
/// # Errors
/// A style of the study that cannot be printed.
pub fn share(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let _speech = speak(material.study.language);
    let style = own_style(material)?;
    let view = report(material);
    let source = format!("{} · {} · tapeline {}", view.title, view.as_of, view.version);
    let question = if view.question.is_empty() { &view.title } else { &view.question };
    let files = view.pictures().flat_map(|(heading, picture)| {
        // These have their finding in the heading above them.
        let title = match picture.drawing {
            Drawing::Spent(_) | Drawing::Intervals(_) => heading,
            _ => &picture.title,
        };
        let around = Around { question, title, note: &picture.note, source: &source, style: &style };
        let place = picture.address.split_once("#picture-").map_or("map", |(_, name)| name);
        FORMATS.map(|(format, size)| Artifact {
            name: format!("{place}-{format}.svg"),
            bytes: card(picture, around, size).into_bytes(),
        })
    });
    Ok(files.collect())
}

//! Pictures to pass on: every picture of the report as a file by itself, in three formats, as SVG and as PNG, with what it
//! needs to be understood.

use super::Artifact;
use super::engine::own_style;
use super::fault::Fault;
use super::pictures::{Around, cards};
use super::png::Painter;
use crate::report::{Drawing, Material, report};
use crate::speech::speak;
use std::thread;

/// Ending of the name, width and height in pixels.
const FORMATS: [(&str, (f64, f64)); 3] =
    [("square", (1080.0, 1080.0)), ("wide", (1200.0, 630.0)), ("tall", (1080.0, 1350.0))];

/// Every picture of the report, six files each; of one that needs several to be read, the second and later are numbered.
///
/// # Errors
/// A style of the study that cannot be printed, or with which no picture can be drawn.
pub fn share(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let _speech = speak(material.study.language);
    let style = own_style(material)?;
    let view = report(material);
    let source = format!("{} · {} · tapeline {}", view.title, view.as_of, view.version);
    let question = if view.question.is_empty() { &view.title } else { &view.question };
    let drawn = view.pictures().flat_map(|(heading, picture)| {
        // These have their finding in the heading above them.
        let title = match picture.drawing {
            Drawing::Spent(_) | Drawing::Intervals(_) => heading,
            _ => &picture.title,
        };
        let around = Around { question, title, note: &picture.note, source: &source, style: &style };
        // The map is a file by itself; all others have a place of their own in the report.
        let place = picture
            .address
            .split_once('#')
            .map_or("map", |(_, place)| place.strip_prefix("picture-").unwrap_or(place));
        FORMATS.into_iter().flat_map(move |(format, size)| {
            let numbered = |(at, card)| match at {
                0 => (format!("{place}-{format}"), card),
                _ => (format!("{place}-{format}-{}", at + 1), card),
            };
            cards(picture, around, size).into_iter().enumerate().map(numbered).collect::<Vec<_>>()
        })
    });
    both(&drawn.collect::<Vec<_>>())
}

/// Each as SVG and as PNG. Painting takes longest by far, so that the pictures are painted beside each other.
fn both(drawn: &[(String, String)]) -> Result<Vec<Artifact>, Fault> {
    let painter = Painter::new();
    let paint = |svgs: &[(String, String)]| svgs.iter().map(|(_, svg)| painter.paint(svg)).collect();
    let painted: Vec<Result<Vec<Vec<u8>>, Fault>> = thread::scope(|scope| {
        let paint = &paint;
        let started: Vec<_> =
            drawn.chunks(FORMATS.len()).map(|svgs| scope.spawn(move || paint(svgs))).collect();
        let joined = started.into_iter().map(thread::ScopedJoinHandle::join);
        joined.map(|painted| painted.unwrap_or_else(|panic| std::panic::resume_unwind(panic))).collect()
    });
    let painted: Vec<Vec<u8>> = painted.into_iter().collect::<Result<Vec<_>, _>>()?.concat();
    let files = drawn.iter().zip(painted).flat_map(|((name, svg), png)| {
        [
            Artifact { name: format!("{name}.svg"), bytes: svg.clone().into_bytes() },
            Artifact { name: format!("{name}.png"), bytes: png },
        ]
    });
    Ok(files.collect())
}

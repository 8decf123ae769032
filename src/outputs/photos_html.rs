//! `photos.html`: the contact sheet, with its photos in a folder beside it.

use super::Artifact;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::files::PHOTOS;
use super::templates::PHOTOS as BODY;
use crate::photos::Photo;
use crate::report::{Material, photos};
use crate::speech::{say, speak};
use std::thread;

const STYLE: &str = include_str!("../../templates/photos.css");

/// The page and its photos; nothing where the study names no folder of photos.
pub(super) fn make(material: &Material<'_>) -> Result<Vec<Artifact>, Fault> {
    let _speech = speak(material.study.language);
    let Some(view) = photos(material) else { return Ok(Vec::new()) };
    let body = render(material, BODY, &minijinja::context! { view => value(&view) })?;
    let foot = say!(
        "{title} · photos {as_of} · tapeline {version}",
        title = view.title,
        as_of = view.as_of,
        version = view.version
    );
    let frame = Frame { title: &view.title, foot: &foot, style: STYLE, script: "", photos: true, own: true };
    let text = page(material, frame, &body)?;
    let mut made = vec![Artifact { name: PHOTOS.name.to_owned(), bytes: text.into_bytes() }];
    made.extend(copies(&view.files));
    Ok(made)
}

/// Smaller copies; a photo takes longer than a page, so that four are made at the same time.
fn copies(files: &[(String, &Photo)]) -> Vec<Artifact> {
    let each = files.len().div_ceil(4).max(1);
    let copy = |(name, photo): &(String, &Photo)| Artifact { name: name.clone(), bytes: photo.copy() };
    thread::scope(|scope| {
        let copy = &copy;
        let started: Vec<_> = files
            .chunks(each)
            .map(|some| scope.spawn(move || some.iter().map(copy).collect::<Vec<Artifact>>()))
            .collect();
        let joined = started.into_iter().map(thread::ScopedJoinHandle::join);
        joined.flat_map(|made| made.unwrap_or_else(|panic| std::panic::resume_unwind(panic))).collect()
    })
}

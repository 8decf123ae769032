//! `photos.html`: the contact sheet, with its photos in a folder beside it.

use super::Artifact;
use super::engine::{Frame, page, render, value};
use super::fault::Fault;
use super::files::PHOTOS;
use super::templates::PHOTOS as BODY;
use crate::report::{Material, photos};
use crate::speech::{say, speak};

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
    let frame = Frame { title: &view.title, foot: &foot, style: STYLE, script: "", photos: true };
    let text = page(material, frame, body)?;
    let mut made = vec![Artifact { name: PHOTOS.name.to_owned(), bytes: text.into_bytes() }];
    made.extend(view.files.into_iter().map(|(name, photo)| Artifact { name, bytes: photo.bytes.clone() }));
    Ok(made)
}

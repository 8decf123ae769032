//! The map as a picture of a page, with the line that says how to read it.

use super::blocks::{Drawing, Picture};
use super::map::map;
use super::material::Material;
use super::names;
use crate::speech::say;
use crate::study::{Study, Treatment};

/// The map with its title and its line.
pub(super) fn map_picture(material: &Material<'_>) -> Picture {
    let view = map(material);
    Picture {
        address: "map.svg".to_owned(),
        title: view.title.clone(),
        note: note(material.study),
        drawing: Drawing::Map(Box::new(view)),
    }
}

fn note(study: &Study) -> String {
    let bare = study.sections_of(Treatment::Bare).next().is_some();
    let kinds = [
        (bare, say!("hatched in grey: bare sections")),
        (!study.surface.avoid.is_empty(), say!("dark hatch: avoided")),
        (!study.surface.curved.is_empty(), say!("lines: curved")),
    ];
    let kinds: Vec<&str> = kinds.into_iter().filter(|(there, _)| *there).map(|(_, words)| words).collect();
    let scale =
        if study.is_on_racks() { say!("The order on the rack, not to scale") } else { say!("To scale") };
    // Of a rack the notes of the map say how it is drawn.
    match kinds.as_slice() {
        [] => format!("{scale}."),
        kinds if study.is_on_racks() => format!("{}.", names::capital(&kinds.join("; "))),
        kinds => format!("{scale}; {}.", kinds.join("; ")),
    }
}

//! `map.svg`: the map of the panel as a file of its own.

use super::fault::Fault;
use super::pictures::{Look, draw_map, map_size, stand_alone};
use crate::report::{Material, map};
use crate::speech::speak;

#[allow(clippy::unnecessary_wraps, reason = "every output of the registry has this shape")]
pub(super) fn make(material: &Material<'_>) -> Result<String, Fault> {
    let _speech = speak(material.study.language);
    let view = map(material);
    let look = Look { prefix: "map-", titled: true };
    Ok(stand_alone(&view.title, map_size(&view, look), |xml| draw_map(&view, look, xml)))
}

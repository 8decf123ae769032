//! `map.svg`: the map of the panel as a file of its own.

use super::desk::Desk;
use super::engine::own_style;
use super::fault::Fault;
use super::pictures::{Look, Plan, draw_map, map_size, stand_alone};
use crate::report::map;
use crate::speech::speak;

pub(super) fn make(desk: &Desk<'_>) -> Result<String, Fault> {
    let material = desk.material;
    let _speech = speak(material.study.language);
    let view = map(material);
    let look = Look { prefix: "map-", titled: true };
    Ok(stand_alone(&view.title, &own_style(material)?, map_size(Plan::wide(&view), look), |xml| {
        draw_map(Plan::wide(&view), look, xml);
    }))
}

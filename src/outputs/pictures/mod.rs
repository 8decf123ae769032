//! Pictures as SVG text, each drawn from its view.

mod change;
mod frame;
mod hazard;
mod intervals;
mod map;
mod plot;
mod spent;

pub(crate) use frame::{Look, stand_alone};
pub(crate) use hazard::{refer as hazard_reference, symbols as hazard_symbols};
pub(crate) use map::{draw as draw_map, size as map_size};

use crate::markup::Xml;
use crate::report::{Drawing, Picture};

/// A picture on a page: its sentence above, the drawing, and how to read it below.
pub(crate) fn figure(picture: &Picture) -> String {
    let (class, drawing) = match &picture.drawing {
        Drawing::Map(view) => {
            let look = Look { prefix: "map-", titled: false };
            (
                "picture-map",
                frame::inline(&picture.title, map_size(view, look), |xml| draw_map(view, look, xml)),
            )
        }
        Drawing::Change(chart) => (
            "picture-change",
            frame::inline(&picture.title, change::size(chart), |xml| change::draw(chart, xml)),
        ),
        Drawing::Intervals(chart) => (
            "picture-intervals",
            frame::inline(&picture.title, intervals::size(chart), |xml| intervals::draw(chart, xml)),
        ),
        Drawing::Spent(chart) => (
            "picture-spent",
            frame::inline(&picture.title, spent::size(chart), |xml| spent::draw(chart, xml)),
        ),
    };
    let id = picture.address.split_once('#').map_or("map", |(_, place)| place);
    let mut xml = Xml::new();
    xml.element("figure", &[("id", &id), ("class", &class)], |xml| {
        xml.leaf("p", &[("class", &"title")], &picture.title);
        xml.markup(&drawing);
    });
    xml.line();
    xml.finish()
}

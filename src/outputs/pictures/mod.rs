//! Pictures as SVG text, each drawn from its view.

mod change;
mod frame;
mod hazard;
mod intervals;
mod map;
mod panel;
mod plot;
mod spent;

pub(crate) use frame::{Look, stand_alone};
pub(crate) use hazard::{refer as hazard_reference, symbols as hazard_symbols};
pub(crate) use map::{draw as draw_map, size as map_size};

use crate::markup::{Attributes, Xml};
use crate::report::{Drawing, Picture};

/// A picture on a page: its sentence above, the drawing, and how to read it below.
pub(crate) fn figure(picture: &Picture) -> String {
    let id = picture.address.split_once('#').map_or("map", |(_, place)| place);
    let mut notes = String::new();
    let (class, drawing) = match &picture.drawing {
        Drawing::Map(view) => {
            notes = view.notes.join(" ");
            let prefix = format!("{id}-");
            let look = Look { prefix: &prefix, titled: false };
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
        Drawing::Panel(chart) => ("picture-panel", panel::draw(chart, &picture.title)),
        Drawing::Spent(chart) => (
            "picture-spent",
            frame::inline(&picture.title, spent::size(chart), |xml| spent::draw(chart, id, xml)),
        ),
    };
    let mut xml = Xml::new();
    xml.element("figure", &[("id", &id), ("class", &class)], |xml| {
        xml.leaf("p", &[("class", &"title")], &picture.title);
        // On a phone the picture scrolls in its box, which the keyboard must reach too.
        let scrolls: Attributes<'_> =
            &[("class", &"wide"), ("role", &"group"), ("tabindex", &0), ("aria-label", &"Picture")];
        xml.element("div", scrolls, |xml| xml.markup(&drawing));
        if !notes.is_empty() {
            xml.leaf("figcaption", &[], &notes);
        }
    });
    xml.line();
    xml.finish()
}

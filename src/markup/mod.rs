//! Escaping writers: XML, CSS strings, Markdown text, Markdown to HTML, and plain text. Nothing here knows the domain.

mod css;
mod hold;
mod html;
mod markdown;
mod number;
mod places;
mod plain;
mod xml;

pub use css::css_string;
pub use hold::hold_words;
pub use html::{GERMAN_MONTHS, Picture, html, with_units};
pub use markdown::{prose, text as markdown_text};
pub use number::{Coordinate, coordinate};
pub use places::Places;
pub use plain::{paragraph, table};
pub use xml::{Attributes, Xml, escape};

//! Escaping writers: XML, CSS strings, Markdown text and Markdown to HTML. Nothing here knows the domain.

mod css;
mod html;
mod markdown;
mod number;
mod xml;

pub use css::css_string;
pub use html::{Picture, html};
pub use markdown::{prose, text as markdown_text};
pub use number::{Coordinate, coordinate};
pub use xml::{Attributes, Xml, escape};

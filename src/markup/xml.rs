//! A writer of XML and HTML elements: what is opened is closed, and no text or attribute goes in unescaped.

use std::fmt::{self, Display, Write};

/// Text under way to a document.
#[derive(Debug, Default)]
pub struct Xml {
    out: String,
}

/// Attributes of an element: names are ours, values are escaped.
pub type Attributes<'a> = &'a [(&'static str, &'a dyn Display)];

impl Xml {
    /// An empty document.
    pub fn new() -> Self {
        Self::default()
    }

    /// An element with children; it is closed whatever the children do.
    pub fn element(
        &mut self,
        name: &'static str,
        attributes: Attributes<'_>,
        inside: impl FnOnce(&mut Self),
    ) {
        self.open(name, attributes);
        self.out.push('>');
        inside(self);
        self.out.push_str("</");
        self.out.push_str(name);
        self.out.push('>');
    }

    /// An element without children.
    pub fn empty(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.open(name, attributes);
        self.out.push_str("/>");
    }

    /// An element that holds one text.
    pub fn leaf(&mut self, name: &'static str, attributes: Attributes<'_>, text: &dyn Display) {
        self.element(name, attributes, |xml| xml.text(text));
    }

    /// A text.
    pub fn text(&mut self, text: &dyn Display) {
        let _ = write!(Escaping(&mut self.out), "{text}");
    }

    /// A line break between elements, for people who read the source.
    pub fn line(&mut self) {
        self.out.push('\n');
    }

    /// Text that is markup already, made by another writer of this crate.
    pub fn markup(&mut self, markup: &str) {
        self.out.push_str(markup);
    }

    /// The finished text.
    pub fn finish(self) -> String {
        self.out
    }

    fn open(&mut self, name: &'static str, attributes: Attributes<'_>) {
        self.out.push('<');
        self.out.push_str(name);
        for (key, value) in attributes {
            self.out.push(' ');
            self.out.push_str(key);
            self.out.push_str("=\"");
            // Writing to a string does not fail.
            let _ = write!(Escaping(&mut self.out), "{value}");
            self.out.push('"');
        }
    }
}

/// The text with everything escaped that means something in XML or HTML, in text or attribute.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let _ = Escaping(&mut out).write_str(text);
    out
}

struct Escaping<'a>(&'a mut String);

impl Write for Escaping<'_> {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for c in text.chars() {
            match c {
                '&' => self.0.push_str("&amp;"),
                '<' => self.0.push_str("&lt;"),
                '>' => self.0.push_str("&gt;"),
                '"' => self.0.push_str("&quot;"),
                '\'' => self.0.push_str("&#39;"),
                '\t' | '\n' | '\r' => self.0.push(c),
                // XML 1.0, section 2.2: these are no characters of a document.
                c if c < ' ' || c == '\u{fffe}' || c == '\u{ffff}' => self.0.push('\u{fffd}'),
                c => self.0.push(c),
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{Xml, escape};

    #[test]
    fn what_is_opened_is_closed_and_values_stay_values() {
        let mut xml = Xml::new();
        xml.element("g", &[("id", &"a\"b")], |xml| {
            xml.empty("rect", &[("width", &3)]);
            xml.leaf("text", &[], &"1 < 2 & 'x'");
        });
        assert_eq!(
            xml.finish(),
            r#"<g id="a&quot;b"><rect width="3"/><text>1 &lt; 2 &amp; &#39;x&#39;</text></g>"#
        );
    }

    #[test]
    fn characters_that_xml_forbids_are_replaced() {
        assert_eq!(escape("a\u{0}b\u{7}c\td"), "a\u{fffd}b\u{fffd}c\td");
    }
}

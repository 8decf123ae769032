//! What all pictures share: how text is measured, and how a picture stands alone as a file.

use crate::markup::{Xml, coordinate};

const TOKENS: &str = include_str!("../../../templates/tokens.css");
const PICTURE: &str = include_str!("../../../templates/picture.css");

/// Where a picture goes: ids get the prefix, so that several may stand on one page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Look<'a> {
    /// Put in front of every id.
    pub(crate) prefix: &'a str,
    /// Whether the title is drawn; on a page the caption carries it.
    pub(crate) titled: bool,
}

/// A drawing that may stand beside others of its picture.
pub(crate) struct Piece<'a> {
    /// What it shows in words.
    pub(crate) words: String,
    /// Left, top, width and height of what it draws on.
    pub(crate) size: (f64, f64, f64, f64),
    /// Draws it.
    pub(crate) draw: Draw<'a>,
}

/// How something is drawn.
pub(crate) type Draw<'a> = Box<dyn Fn(&mut Xml) + 'a>;

impl Piece<'_> {
    /// On a page.
    pub(crate) fn inline(&self) -> String {
        inline(&self.words, self.size, |xml| (self.draw)(xml))
    }
}

/// A whole SVG file of a fixed size, with a title and a description.
pub(crate) fn card(
    (title, words): (&str, &str),
    style: &str,
    (width, height): (f64, f64),
    inside: impl FnOnce(&mut Xml),
) -> String {
    let view_box = format!("0 0 {} {}", coordinate(width), coordinate(height));
    let mut xml = Xml::new();
    let attributes: crate::markup::Attributes<'_> = &[
        ("xmlns", &"http://www.w3.org/2000/svg"),
        ("viewBox", &view_box),
        ("width", &width),
        ("height", &height),
        ("class", &"picture"),
        ("role", &"img"),
    ];
    xml.element("svg", attributes, |xml| {
        xml.line();
        xml.leaf("title", &[], &title);
        xml.leaf("desc", &[], &words);
        xml.leaf("style", &[], &literal_style(style));
        xml.empty("rect", &[("width", &width), ("height", &height), ("class", &"paper")]);
        xml.line();
        inside(xml);
    });
    xml.line();
    xml.finish()
}

/// A whole SVG file: literal light colours on its own paper, since viewers outside of a browser know
/// no custom properties.
pub(crate) fn stand_alone(
    title: &str,
    style: &str,
    size: (f64, f64, f64, f64),
    inside: impl FnOnce(&mut Xml),
) -> String {
    let (x, y, width, height) = size;
    let mut xml = Xml::new();
    let view_box =
        format!("{} {} {} {}", coordinate(x), coordinate(y), coordinate(width), coordinate(height));
    xml.element(
        "svg",
        &[
            ("xmlns", &"http://www.w3.org/2000/svg"),
            ("viewBox", &view_box),
            ("class", &"picture"),
            ("role", &"img"),
        ],
        |xml| {
            xml.line();
            xml.leaf("title", &[], &title);
            xml.leaf("style", &[], &literal_style(style));
            let (x, y, w, h) = (coordinate(x), coordinate(y), coordinate(width), coordinate(height));
            xml.empty("rect", &[("x", &x), ("y", &y), ("width", &w), ("height", &h), ("class", &"paper")]);
            inside(xml);
        },
    );
    xml.line();
    xml.finish()
}

/// A picture inside a page.
pub(crate) fn inline(title: &str, size: (f64, f64, f64, f64), inside: impl FnOnce(&mut Xml)) -> String {
    let (x, y, width, height) = size;
    let view_box =
        format!("{} {} {} {}", coordinate(x), coordinate(y), coordinate(width), coordinate(height));
    let mut xml = Xml::new();
    let attributes: crate::markup::Attributes<'_> =
        &[("viewBox", &view_box), ("class", &"picture"), ("role", &"img"), ("aria-label", &title)];
    xml.element("svg", attributes, inside);
    xml.finish()
}

// The light values of the tokens put in for the names, those of the study before those of the tool; a name that has
// none would stay visible.
fn literal_style(own: &str) -> String {
    let light = own.split("@media").next().unwrap_or_default();
    let own = light.split_once(":root").map_or("", |(_, rest)| rest.trim_start().trim_start_matches('{'));
    let tokens = TOKENS.split_once('{').map_or("", |(_, rest)| rest);
    let mut style = rules(PICTURE);
    for block in [own, tokens] {
        for line in block.split('}').next().unwrap_or_default().split(';') {
            if let Some((name, value)) = line.trim().split_once(':') {
                style = style.replace(&format!("var({})", name.trim()), value.trim());
            }
        }
    }
    style
}

// Comments are for whoever edits the style, and an SVG file is read by others.
fn rules(style: &str) -> String {
    style.lines().filter(|line| !line.starts_with("/*")).collect::<Vec<_>>().join("\n")
}

/// Width of a line of text in em of a usual sans, a little on the wide side.
pub(crate) fn text_width(text: &str) -> f64 {
    text.chars().map(char_width).sum()
}

fn char_width(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' => 0.28,
        'f' | 't' | 'r' | ' ' | '-' | '(' | ')' | '/' => 0.36,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 0.88,
        '−' | '–' | '+' => 0.84,
        '·' => 0.3,
        c if c.is_uppercase() => 0.68,
        c if c.is_ascii() => 0.56,
        'À'..='ɏ' => 0.58,
        // Letters of other scripts may be as wide as they are high.
        _ => 1.0,
    }
}

/// How much wider the letters of names are than usual ones.
pub(crate) const BOLD: f64 = 1.15;

/// A text cut to a width in em, with an ellipsis where it was cut.
pub(crate) fn cut(text: &str, width: f64) -> String {
    if text_width(text) <= width {
        return text.to_owned();
    }
    let mut used = 0.6;
    let fits = text.chars().take_while(|&c| {
        used += char_width(c);
        used <= width
    });
    let mut out: String = fits.collect();
    out.truncate(out.trim_end().len());
    out.push('…');
    out
}

/// A text in as many lines as a width in em asks for; a word that is wider alone keeps its line.
pub(crate) fn lines(text: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if text_width(line) + text_width(word) + text_width(" ") <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// A text in at most two lines, parted where they become most equal.
pub(crate) fn two_lines(text: &str) -> Vec<&str> {
    let parts = text.match_indices(' ').map(|(at, _)| (&text[..at], &text[at + 1..]));
    let best = parts.min_by(|a, b| longest(a).total_cmp(&longest(b)));
    match best {
        Some((first, second)) => vec![first, second],
        None => vec![text],
    }
}

fn longest(lines: &(&str, &str)) -> f64 {
    text_width(lines.0).max(text_width(lines.1))
}

#[cfg(test)]
mod tests {
    use super::{cut, lines, literal_style, two_lines};

    #[test]
    fn every_colour_of_a_file_is_literal() {
        assert!(!literal_style("").contains("var("), "{}", literal_style(""));
        let own = "@media print { :root { --ink: #111111 } }";
        assert_eq!(literal_style(own), literal_style(""));
        let own = format!("h1 {{ margin: 0 }}\n:root{{--ink:#123456;}}{own}");
        assert!(literal_style(&own).contains("fill: #123456") && !literal_style(&own).contains("#111111"));
    }

    #[test]
    fn names_are_cut_and_parted() {
        assert_eq!(cut("short", 10.0), "short");
        assert!(cut("a very long name of a product", 6.0).ends_with('…'));
        assert_eq!(two_lines("Thyme shell two"), ["Thyme", "shell two"]);
        assert_eq!(lines("one two three", 4.0), ["one two", "three"]);
    }
}

//! Text inside Markdown: single lines that stay text, and prose that cannot leave its place.

use pulldown_cmark::{Event, Options, Parser, Tag};
use std::ops::Range;

/// A text as Markdown that shows exactly that text, on one line, in a paragraph or a table cell.
///
/// Escapes what `CommonMark` 0.31.2 (section 2.4) and its table extension take for markup; a hyphen or
/// underscore inside a word stays bare, so that the source can be read as it is.
pub fn text(plain: &str) -> String {
    let line = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut out = String::with_capacity(line.len());
    for (at, c) in line.char_indices() {
        let (before, after) = (&line[..at], &line[at + c.len_utf8()..]);
        if means_something(c, before, after) {
            out.push('\\');
        }
        out.push(if c.is_control() { '\u{fffd}' } else { c });
    }
    out
}

fn means_something(c: char, before: &str, after: &str) -> bool {
    let inside_word = before.ends_with(char::is_alphanumeric) && after.starts_with(char::is_alphanumeric);
    let ends = after.is_empty() || after.starts_with(' ');
    match c {
        '\\' | '`' | '*' | '[' | ']' | '<' | '|' | '~' | '$' => true,
        '_' => !inside_word,
        '&' => after.contains(';'),
        '>' | '#' | '=' => before.is_empty(),
        '-' | '+' => before.is_empty() && (after.is_empty() || after.starts_with([' ', '-'])),
        '.' | ')' => {
            ends && !before.is_empty() && before.len() < 10 && before.bytes().all(|b| b.is_ascii_digit())
        }
        _ => false,
    }
}

/// The user's prose as a Markdown quote: formatting stays, raw HTML becomes text, pictures become
/// links, headings become strong lines; the quote holds in whatever the prose leaves open.
pub fn prose(markdown: &str) -> String {
    let tame = tamed(markdown);
    let quoted = tame.trim().lines().map(|line| format!("> {line}").trim_end().to_owned());
    quoted.collect::<Vec<_>>().join("\n")
}

// Escaping one tag may show another that it hid; each turn makes the rest shorter of tags, and four
// turns are more than any prose needs. What is left then loses every bracket.
fn tamed(markdown: &str) -> String {
    let mut current = markdown.to_owned();
    for _ in 0..4 {
        let edits = edits(&current);
        if edits.is_empty() {
            return current;
        }
        current = apply(&current, edits);
    }
    if edits(&current).is_empty() { current } else { text(&current) }
}

// Places where a backslash is put in; a tag may be opened by `<` only.
fn edits(markdown: &str) -> Vec<usize> {
    let mut places = Vec::new();
    for (event, range) in Parser::new_ext(markdown, Options::empty()).into_offset_iter() {
        match event {
            Event::Html(_) | Event::InlineHtml(_) => brackets(markdown, &range, &mut places),
            Event::Start(Tag::Image { .. } | Tag::Heading { .. }) => heads(markdown, range, &mut places),
            _ => {}
        }
    }
    places.sort_unstable();
    places.dedup();
    places
}

fn brackets(markdown: &str, range: &Range<usize>, places: &mut Vec<usize>) {
    let inside = markdown[range.clone()].match_indices('<');
    places.extend(inside.map(|(at, _)| range.start + at));
}

// An image begins with `!`, a heading with `#`, or it has a line of `=` or `-` below it.
fn heads(markdown: &str, range: Range<usize>, places: &mut Vec<usize>) {
    let inside = &markdown[range.clone()];
    if inside.starts_with(['!', '#']) {
        places.push(range.start);
    } else if let Some(at) = inside.trim_end().rfind('\n') {
        let line = &inside[at + 1..];
        places.push(range.start + at + 1 + (line.len() - line.trim_start().len()));
    }
}

fn apply(markdown: &str, places: Vec<usize>) -> String {
    let mut out = String::with_capacity(markdown.len() + places.len());
    let mut done = 0;
    for place in places {
        out.push_str(&markdown[done..place]);
        out.push('\\');
        done = place;
    }
    out + &markdown[done..]
}

#[cfg(test)]
mod tests {
    use super::{prose, text};
    use pulldown_cmark::{Event, Options, Parser};

    fn shown(markdown: &str) -> String {
        let parts = Parser::new_ext(markdown, Options::ENABLE_TABLES).filter_map(|event| match event {
            Event::Text(text) => Some(text.to_string()),
            Event::Start(_) | Event::End(_) => None,
            other => panic!("markup got through: {other:?}"),
        });
        parts.collect()
    }

    #[test]
    fn any_text_is_shown_as_it_is() {
        let plain = [
            "a*b*c",
            "_x_",
            "1. first",
            "- point",
            "+ x",
            "# head",
            "> q",
            "<b>&amp;</b>",
            "a|b",
            "`c`",
            "[x](y)",
            "gloss-20",
            "snake_case",
            "\\",
            "-3.2 GU",
            "===",
            "---",
            "12) x",
            "![p](q)",
            "~~s~~",
            "A & B; C",
        ];
        for line in plain {
            assert_eq!(shown(&text(line)), line, "as {}", text(line));
        }
        assert_eq!(text("gloss-20 of snake_case"), "gloss-20 of snake_case");
    }

    #[test]
    fn a_cell_stays_a_cell() {
        let table = format!("| a | b |\n| --- | --- |\n| {} | z |\n", text("x | y\nnext"));
        assert_eq!(shown(&table), "abx | y nextz");
    }

    #[test]
    fn prose_keeps_its_place_and_its_tags_as_text() {
        let wild = "# Head\n\n<script>alert(1)</script> and <b>bold</b>\n\nSet\n===\n\n![p](http://x.example/p.png)\n\n```\nopen <i>";
        let page = format!("{}\n\nAfter.\n", prose(wild));
        let html = crate::markup::html(&page, "Table", &mut |_| None);
        assert!(!html.contains("<script") && !html.contains("<b>") && !html.contains("<h1"), "{html}");
        assert!(!html.contains("<img"), "{html}");
        assert!(html.contains("&lt;script&gt;") && html.contains("open &lt;i&gt;"), "{html}");
        assert!(html.contains("<p>After.</p>"), "{html}");
    }
}

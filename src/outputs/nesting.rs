//! Whether a changed block of HTML closes what it opens: an element left open would hold the rest of the page, and could
//! hide it.

use std::ops::Range;

/// Elements that hold nothing and are never closed (HTML, 13.1.2).
const VOID: [&str; 13] =
    ["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"];

/// The first tag that does not stand in order: its place, what is wrong, and what to write instead.
pub(super) fn unbalanced(text: &str) -> Option<(Range<usize>, String, String)> {
    let lower = text.to_ascii_lowercase();
    let mut open: Vec<(&str, Range<usize>)> = Vec::new();
    let mut at = 0;
    while let Some(found) = lower.get(at..).and_then(|rest| rest.find('<')) {
        let start = at + found;
        if lower[start..].starts_with("<!--") {
            // One that is not closed is told by itself.
            at = start + lower[start..].find("-->")? + 3;
            continue;
        }
        let closes = lower[start + 1..].starts_with('/');
        let from = start + 1 + usize::from(closes);
        let length = lower[from..]
            .find(|c: char| !(c.is_ascii_alphanumeric() || c == '-'))
            .unwrap_or(lower.len() - from);
        let name = &lower[from..from + length];
        at = from + length;
        if !name.starts_with(|c: char| c.is_ascii_lowercase()) {
            continue;
        }
        let place = start..from + length;
        let Some(end) = end_of(&lower[at..]) else {
            return Some((place, format!("the tag `<{name}` has no end"), "write `>` behind it".to_owned()));
        };
        let itself = lower[..at + end].ends_with('/') && (is_drawn(&open) || name == "svg");
        at += end + 1;
        if !closes {
            if !itself && !VOID.contains(&name) {
                open.push((name, place));
            }
        } else if open.pop().is_none_or(|(last, _)| last != name) {
            let message = format!("`</{name}>` closes nothing that was opened last in this block");
            return Some((place, message, "close elements in the opposite order, each once".to_owned()));
        }
    }
    let (name, place) = open.into_iter().next()?;
    let message = format!("`<{name}>` is not closed, so that it would hold the rest of the page");
    Some((place, message, format!("close it: `</{name}>`")))
}

/// Whether the innermost is part of a drawing, where an element may close itself.
fn is_drawn(open: &[(&str, Range<usize>)]) -> bool {
    let last = |names: &[&str]| open.iter().rposition(|(name, _)| names.contains(name));
    last(&["svg"]) > last(&["foreignobject", "desc", "title"])
}

/// Where a tag ends, behind its name: at the first `>` outside of quotes of a value.
fn end_of(rest: &str) -> Option<usize> {
    let (mut quote, mut before) = (None, ' ');
    for (at, c) in rest.char_indices() {
        match quote {
            Some(mark) if c == mark => quote = None,
            None if c == '>' => return Some(at),
            None if matches!(c, '"' | '\'') && before == '=' => quote = Some(c),
            _ => {}
        }
        if !c.is_whitespace() {
            before = c;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::unbalanced;

    #[test]
    fn whatever_is_opened_is_closed_in_order() {
        for sound in [
            "",
            "a < b and b > a",
            "<p>One<br>two <strong title=\"</p>\">three</strong></p><!-- <div> -->",
            "<svg><path d='M0 0'/><g><circle r=\"1\"/></g></svg><hr/>",
            "<P>{{ view.title }}</p>",
        ] {
            assert_eq!(unbalanced(sound), None, "{sound}");
        }
    }

    #[test]
    fn an_element_left_open_is_told_with_its_place() {
        let told = |text: &str| {
            let (place, message, _) = unbalanced(text).unwrap_or_else(|| panic!("{text}"));
            (text[place].to_owned(), message)
        };
        for hiding in [
            "<div hidden>",
            "<p>A</p>\n<div style=\"display:none\">",
            "<div hidden title='</div>'>",
            "<div hidden/>",
            "<details><summary>More</summary>",
            "<svg><foreignObject><div hidden/></foreignObject></svg>",
            "{% if true %}<div hidden>{% endif %}",
            "<b><div hidden></b></div>",
            "</main>",
            "<p title=\"never closed>",
        ] {
            let (place, message) = told(hiding);
            assert!(place.starts_with('<') && message.contains('`'), "{hiding}: {message}");
        }
        assert_eq!(told("<p>A</p>\n<div hidden>").0, "<div");
    }
}

//! Words that a line keeps whole: dates, names of measures and numbered names do not break at their hyphens.

/// Longer words may break, or a narrow column would have to be pushed for one of them.
const LONGEST: usize = 14;
/// What is inside of these is no text of the page, or shown by rules of its own.
const PASSED: [&str; 7] = ["style", "script", "svg", "title", "textarea", "option", "code"];

/// The markup of a page, in which every short word with a hyphen inside stands in an element that does not break.
pub fn hold_words(markup: &str) -> String {
    let mut out = String::with_capacity(markup.len() + markup.len() / 32);
    let mut rest = markup;
    while let Some(open) = rest.find('<') {
        held(&rest[..open], &mut out);
        let tag = &rest[open..];
        let length = passed(tag).unwrap_or_else(|| end_of_tag(tag));
        out.push_str(&tag[..length]);
        rest = &tag[length..];
    }
    held(rest, &mut out);
    out
}

// How long an element is whose inside is passed over, with its tags.
fn passed(tag: &str) -> Option<usize> {
    let name = tag[1..].split(|c: char| !c.is_ascii_alphanumeric()).next().unwrap_or_default();
    let known = PASSED.into_iter().find(|known| name.eq_ignore_ascii_case(known))?;
    let close = format!("</{known}>");
    Some(tag.find(&close).map_or(tag.len(), |at| at + close.len()))
}

// A quoted value may hold what would end the tag.
fn end_of_tag(tag: &str) -> usize {
    let mut quote = None;
    for (at, c) in tag.char_indices() {
        match (quote, c) {
            (None, '"' | '\'') => quote = Some(c),
            (Some(open), c) if open == c => quote = None,
            (None, '>') => return at + 1,
            _ => {}
        }
    }
    tag.len()
}

fn held(text: &str, out: &mut String) {
    let inside = |c: char| c.is_alphanumeric() || matches!(c, '-' | '+' | '%');
    let mut from = 0;
    // Entities hold no hyphen, so a word never begins inside of one.
    for (at, _) in text.match_indices('-') {
        if at < from {
            continue;
        }
        let start = text[from..at]
            .rfind(|c| !inside(c))
            .map_or(from, |last| from + last + text[from + last..].chars().next().map_or(1, char::len_utf8));
        let end = text[at..].find(|c| !inside(c)).map_or(text.len(), |first| at + first);
        let word = &text[start..end];
        out.push_str(&text[from..start]);
        let joins = word.contains(char::is_alphanumeric) && word.trim_matches('-').contains('-');
        if joins && word.chars().count() <= LONGEST {
            out.push_str("<bdi class=\"held\">");
            out.push_str(word);
            out.push_str("</bdi>");
        } else {
            out.push_str(word);
        }
        from = end;
    }
    out.push_str(&text[from..]);
}

#[cfg(test)]
mod tests {
    use super::hold_words;

    #[test]
    fn short_words_with_a_hyphen_stay_on_their_line() {
        let held = |word: &str| format!("<bdi class=\"held\">{word}</bdi>");
        for word in ["gloss-20", "2026-10-09", "haul-out", "Größe-2", "pen-gel+x", "95-%-Intervall"] {
            assert_eq!(hold_words(&format!("<p>a {word}, b</p>")), format!("<p>a {}, b</p>", held(word)));
        }
        let both = format!("{} {}", held("a-1"), held("b-2"));
        assert_eq!(hold_words("a-1 b-2"), both);
    }

    #[test]
    fn nothing_else_is_touched() {
        let plain = [
            "<p>interval-censored estimates - and -3 or 3- &amp; –</p>",
            "<a href=\"a-b\" title='x>y-z'>c</a>",
            "<style>a-b</style><script>c-d</script><svg aria-label=\"a-b\"><text>e-f</text></svg>",
            "<code>g-h</code><title>i-j</title>",
            "<svg>a-b",
            "a < b-c-",
        ];
        for text in plain {
            assert_eq!(hold_words(text), text);
        }
    }
}

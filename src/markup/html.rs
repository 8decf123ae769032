//! Markdown to HTML by pulldown-cmark, with pictures put in where the Markdown points to them.

use super::Places;
use pulldown_cmark::{Alignment, CowStr, Event, HeadingLevel, Options, Parser, Tag, TagEnd, TextMergeStream};

/// Gives the markup of a picture by the address under which the Markdown names it.
pub type Picture<'a> = &'a mut dyn FnMut(&str) -> Option<String>;

/// Turns a whole Markdown page into the inside of an HTML body.
///
/// Raw HTML is shown as text. A paragraph that is only a link or image whose address `picture` knows
/// becomes that picture; any other image becomes its caption, so that nothing is fetched. Links keep
/// their address only where it is a page, a mail address or a place on the page. A table that no heading names is called `table`.
pub fn html(markdown: &str, table: &str, picture: Picture<'_>) -> String {
    // A sign that the Markdown escapes begins a text of its own, and would not be seen beside what it stands with.
    let parser = Parser::new_ext(markdown, Options::ENABLE_TABLES);
    let events: Vec<Event<'_>> = TextMergeStream::new(parser).collect();
    let mut page = Page {
        out: Vec::with_capacity(events.len()),
        places: Places::new(),
        quotes: 0,
        heading: format!("aria-label=\"{table}\""),
        numbers: Vec::new(),
        column: None,
    };
    let mut at = 0;
    while at < events.len() {
        at += page.take(&events[at..], picture);
    }
    let mut out = String::with_capacity(markdown.len() * 2);
    pulldown_cmark::html::push_html(&mut out, page.out.into_iter());
    plain_corners(&out)
}

// The head of a column that has no words is no head: a screen reader would announce it as one.
fn plain_corners(page: &str) -> String {
    page.replace("<th></th>", "<td></td>").replace("<th style=\"text-align: right\"></th>", "<td></td>")
}

struct Page<'e> {
    out: Vec<Event<'e>>,
    places: Places,
    quotes: usize,
    // The attribute by which a table is called: after the last heading, once there is one.
    heading: String,
    // Which columns of the table hold numbers, and how many cells of the row were begun; none outside of a row.
    numbers: Vec<bool>,
    column: Option<usize>,
}

impl<'e> Page<'e> {
    // Takes the first event and whatever belongs to it; returns how many were taken.
    fn take(&mut self, events: &[Event<'e>], picture: Picture<'_>) -> usize {
        match &events[0] {
            Event::Start(Tag::Paragraph) if self.quotes == 0 => {
                if let Some((taken, markup)) = lone_picture(events, picture) {
                    self.out.push(Event::Html(markup.into()));
                    return taken;
                }
                self.out.push(events[0].clone());
            }
            Event::Start(Tag::Heading { level, .. }) => self.heading(*level, events),
            Event::Start(Tag::Table(columns)) => {
                self.numbers = columns.iter().map(|&column| column == Alignment::Right).collect();
                // A box that may scroll is reached by the keyboard, so it needs a place and a name.
                let open = format!("<div class=\"wide\" role=\"group\" tabindex=\"0\" {}>", self.heading);
                self.out.push(Event::Html(open.into()));
                self.out.push(events[0].clone());
            }
            Event::End(TagEnd::Table) => {
                self.column = None;
                self.out.push(events[0].clone());
                self.out.push(Event::Html("</div>\n".into()));
            }
            Event::Text(text) if self.in_numbers() => self.out.push(Event::Text(held(text))),
            event => self.plain(event),
        }
        1
    }

    // In a row of a table, below its head, at a column of numbers.
    fn in_numbers(&self) -> bool {
        self.column.and_then(|begun| self.numbers.get(begun.checked_sub(1)?)).is_some_and(|&numbers| numbers)
    }

    fn plain(&mut self, event: &Event<'e>) {
        match event {
            Event::Start(Tag::BlockQuote(_)) => self.quotes += 1,
            Event::End(TagEnd::BlockQuote(_)) => self.quotes -= 1,
            Event::Start(Tag::TableRow) => self.column = Some(0),
            Event::Start(Tag::TableCell) => self.column = self.column.map(|begun| begun + 1),
            _ => {}
        }
        self.out.push(match event {
            Event::Html(text) | Event::InlineHtml(text) => Event::Text(text.clone()),
            Event::Text(text) => Event::Text(with_units(text).into()),
            Event::Start(Tag::HtmlBlock) => Event::Start(Tag::Paragraph),
            Event::End(TagEnd::HtmlBlock) => Event::End(TagEnd::Paragraph),
            Event::Start(Tag::Image { .. }) => Event::Start(Tag::Emphasis),
            Event::End(TagEnd::Image) => Event::End(TagEnd::Emphasis),
            Event::Start(Tag::Link { link_type, dest_url, title, id }) if !may_link(dest_url) => {
                Event::Start(Tag::Link {
                    link_type: *link_type,
                    dest_url: "#".into(),
                    title: title.clone(),
                    id: id.clone(),
                })
            }
            other => other.clone(),
        });
    }

    fn heading(&mut self, level: HeadingLevel, events: &[Event<'e>]) {
        let words = events.iter().skip(1).map_while(|event| match event {
            Event::End(TagEnd::Heading(_)) => None,
            Event::Text(text) | Event::Code(text) => Some(text.as_ref()),
            _ => Some(""),
        });
        let id = self.places.of(&words.collect::<String>());
        self.heading = format!("aria-labelledby=\"{id}\"");
        let id = Some(CowStr::from(id));
        self.out.push(Event::Start(Tag::Heading { level, id, classes: Vec::new(), attrs: Vec::new() }));
    }
}

// The last of a number stays with its unit, and with the word before it, wherever a narrow column breaks.
fn held<'e>(text: &str) -> CowStr<'e> {
    // Of how many a number is stands in front of it, in brackets that no line parts.
    if let Some((within, number)) = text.split_once(')').filter(|_| text.starts_with('(')) {
        return format!("{}){number}", within.replace(' ', "\u{a0}")).into();
    }
    match text.rsplit_once(' ') {
        Some((before, last)) => format!("{before}\u{a0}{last}").into(),
        None => text.to_owned().into(),
    }
}

/// Signs that stand behind a number, in the units that pages most often have.
const UNITS: [&str; 24] = [
    "%", "GU", "dE00", "mm", "cm", "m", "m²", "mm²", "µm", "µl", "ml", "l", "g", "kg", "mg", "°C", "°F", "h",
    "min", "s", "EUR", "MPa", "weeks", "Wochen",
];

/// Months of a German date, which follow the day.
pub const GERMAN_MONTHS: [&str; 12] = [
    "Januar",
    "Februar",
    "März",
    "April",
    "Mai",
    "Juni",
    "Juli",
    "August",
    "September",
    "Oktober",
    "November",
    "Dezember",
];

/// Words behind which a number stands, as in the names of rounds.
const NUMBERED: [&str; 14] = [
    "month",
    "week",
    "day",
    "cycle",
    "line",
    "least",
    "most",
    "Monat",
    "Woche",
    "Tag",
    "Zyklus",
    "Zeile",
    "mindestens",
    "höchstens",
];

/// A number stays with its unit, a round with its number, a day with its month, thousands with their zeros, and a reading with its mark, wherever a line breaks.
pub fn with_units(text: &str) -> String {
    let is_unit = |rest: &str| {
        let word = rest.split(|c: char| c.is_whitespace() || ",;.:)/".contains(c)).next().unwrap_or("");
        UNITS.contains(&word)
    };
    let digit = |c: char| c.is_ascii_digit();
    let is_bound = |behind: &str| {
        let number = ["least ", "most "].iter().find_map(|word| behind.strip_prefix(word));
        number.is_some_and(|number| number.starts_with(digit))
    };
    let is_numbered = |before: &str| {
        let word = before.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or("");
        NUMBERED.contains(&word)
    };
    let holds = |before: &str, behind: &str| {
        before.ends_with(digit)
            && (is_unit(behind) || behind.starts_with(['*', '×']) || behind.starts_with("000"))
            || behind.starts_with(digit) && is_numbered(before)
            || before.ends_with("at") && is_bound(behind)
            || before.strip_suffix('.').is_some_and(|day| day.ends_with(digit))
                && GERMAN_MONTHS.iter().any(|month| behind.starts_with(month))
    };
    let mut held = String::new();
    let mut from = 0;
    for (at, _) in text.match_indices(' ') {
        if holds(&text[..at], &text[at + 1..]) {
            held.push_str(&text[from..at]);
            held.push('\u{a0}');
            from = at + 1;
        }
    }
    held + &text[from..]
}

// A paragraph that holds one link or image and nothing else.
fn lone_picture(events: &[Event<'_>], picture: Picture<'_>) -> Option<(usize, String)> {
    let Event::Start(Tag::Link { dest_url: address, .. } | Tag::Image { dest_url: address, .. }) =
        events.get(1)?
    else {
        return None;
    };
    let end = events.iter().position(|event| matches!(event, Event::End(TagEnd::Paragraph)))?;
    let last = events.get(end.checked_sub(1)?)?;
    let closes = |event: &Event<'_>| matches!(event, Event::End(TagEnd::Link | TagEnd::Image));
    let one = events[..end].iter().filter(|event| closes(event)).count() == 1;
    (one && closes(last)).then(|| picture(address)).flatten().map(|markup| (end + 1, markup))
}

// A script or a data address is no link; what has no scheme is a file beside the page.
fn may_link(address: &str) -> bool {
    match address.split_once(':') {
        Some((scheme, _)) if !scheme.contains(['/', '#', '?']) => {
            ["http", "https", "mailto"].iter().any(|known| scheme.eq_ignore_ascii_case(known))
        }
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::html;

    #[test]
    fn pictures_come_where_a_paragraph_points_to_them() {
        let page = "![Map](map.svg)\n\n[See it](report.html#picture-a)\n\nsee [it](report.html#picture-a)\n\n> [See](report.html#picture-a)\n";
        let mut asked = Vec::new();
        let out = html(page, "Table", &mut |address| {
            asked.push(address.to_owned());
            Some(format!("<figure>{}</figure>", asked.len()))
        });
        assert_eq!(asked, ["map.svg", "report.html#picture-a"]);
        assert!(out.starts_with("<figure>1</figure><figure>2</figure>"), "{out}");
    }

    #[test]
    fn no_script_is_linked_and_no_picture_is_fetched() {
        let out = html(
            "[a](javascript:alert(1)) [b](DATA:text/html,x) [c](https://a.example/) ![d](https://b.example/d.png)",
            "Table",
            &mut |_| None,
        );
        assert!(!out.to_lowercase().contains("javascript:") && !out.contains("DATA:"), "{out}");
        assert!(out.contains("https://a.example/") && !out.contains("b.example"), "{out}");
    }

    #[test]
    fn a_number_stays_with_its_last_word() {
        let table = "| Two words | Of these |\n| --- | ---: |\n| a b c | 1 to 2 |\n| d | (1 of 2) 3 |\n";
        let out = html(table, "Table", &mut |_| None);
        assert!(
            out.contains(">1 to\u{a0}2<")
                && out.contains(">(1\u{a0}of\u{a0}2) 3<")
                && out.contains(">a b c<")
                && out.contains(">Of these<"),
            "{out}"
        );
        assert!(html(&format!("{table}\n1 to 2"), "Table", &mut |_| None).contains("<p>1 to 2<"));
    }

    #[test]
    fn a_number_stays_with_its_unit_in_running_text() {
        let out = html("It lost 3.2 GU (5 % of it), by 3 makers, in 2 minutes.", "Table", &mut |_| None);
        assert!(out.contains("lost 3.2\u{a0}GU (5\u{a0}% of it), by 3 makers, in 2 minutes."), "{out}");
    }

    #[test]
    fn a_round_stays_with_its_number_and_a_reading_with_its_mark() {
        let out = html("By month 3, in [Zyklus 12](#a): 4.1 4.2 \\*, days 4.", "Table", &mut |_| None);
        assert!(out.contains("By month\u{a0}3, in") && out.contains(">Zyklus\u{a0}12<"), "{out}");
        assert!(out.contains("4.1 4.2\u{a0}*, days 4."), "{out}");
    }

    #[test]
    fn tables_are_reached_by_keyboard_and_named_by_their_heading() {
        let out = html(
            "|  | a |\n| --- | --- |\n| 1 | 2 |\n\n## Six\n\n| b |\n| --- |\n| 3 |\n",
            "Table",
            &mut |_| None,
        );
        assert!(
            out.starts_with("<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"Table\">"),
            "{out}"
        );
        assert!(out.contains("tabindex=\"0\" aria-labelledby=\"six\">"), "{out}");
        assert!(out.contains("<tr><td></td><th>a</th></tr>"), "{out}");
    }

    #[test]
    fn headings_have_their_own_places() {
        let out = html("## Six of 12\n\n## Six of 12\n\n## *\n", "Table", &mut |_| None);
        assert!(out.contains("id=\"six-of-12\"") && out.contains("id=\"six-of-12-1\""), "{out}");
    }
}

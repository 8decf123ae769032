//! Words: a short meaning of each term that the report uses and that nobody has to know.

use super::answer::AnswerView;
use super::blocks::{Block, Part, Table};
use super::numbers::Figure;
use crate::speech::say;

/// A term: how it is found in the text, how it is listed, and what it means here.
struct Term {
    marks: Vec<&'static str>,
    name: &'static str,
    meaning: &'static str,
    /// Whether it is a term only where it fills a cell of a table.
    alone: bool,
}

/// The part with those terms that occur; none where none does.
pub(super) fn part(answer: &AnswerView, parts: &[Part]) -> Option<Part> {
    let texts = texts(answer, parts);
    let occurs = |term: &Term| {
        let whole = |mark: &str| texts.contains(&mark);
        let inside = |mark: &str| texts.iter().any(|text| has_word(text, mark));
        term.marks.iter().any(|mark| if term.alone { whole(mark) } else { inside(mark) })
    };
    let mut table = Table::new(&[say!("Term"), say!("What it means here")]);
    for term in terms().into_iter().filter(occurs) {
        table.row(vec![Figure::from(term.name), Figure::from(term.meaning)]);
    }
    if table.rows.is_empty() {
        return None;
    }
    let mut part = Part::new(say!("Words"));
    part.table(table);
    Some(part)
}

/// Ties words of the answer to their meanings: each where it stands first behind the clause of a paragraph.
pub(super) fn explain(answer: &mut AnswerView, parts: &[Part]) {
    let Some(part) = parts.iter().find(|part| part.heading == say!("Words")) else { return };
    let listed = |name: &str| {
        part.blocks.iter().any(|block| match block {
            Block::Table(table) => table.rows.iter().any(|row| row[0].text == name),
            _ => false,
        })
    };
    let units = [say!("GU"), say!("dE00")];
    let words = [say!("seen"), say!("alike"), say!("not settled"), say!("may lead")];
    for name in units.into_iter().chain(words).filter(|name| listed(name)) {
        // A unit is not parted from its number.
        let find = |text: &str| {
            let at = word_at(text, name)?;
            let number = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '−' | '+');
            let before = text[..at].strip_suffix(' ').filter(|_| units.contains(&name));
            let before = before.filter(|before| before.ends_with(|c: char| c.is_ascii_digit()));
            let from = before.map_or(at, |before| before.trim_end_matches(number).len());
            Some((from, at + name.len()))
        };
        let _ = answer.paragraphs.iter_mut().any(|claim| claim.explain(find, &part.place));
    }
}

fn texts<'v>(answer: &'v AnswerView, parts: &'v [Part]) -> Vec<&'v str> {
    let claims = answer.paragraphs.iter().chain(&answer.footing);
    let mut texts: Vec<&str> =
        claims.flat_map(|claim| [claim.clause.as_str(), claim.rest.as_str()]).collect();
    texts.push(&answer.headline);
    for part in parts {
        texts.push(&part.heading);
        for block in &part.blocks {
            match block {
                Block::Paragraph { text } => texts.push(text),
                Block::List { items } => texts.extend(items.iter().map(String::as_str)),
                Block::Terms { items } => {
                    texts.extend(
                        items
                            .iter()
                            .flat_map(|item| item.of.as_deref().into_iter().chain([item.text.as_str()])),
                    );
                }
                Block::Table(table) => {
                    texts.extend(table.head.iter().map(|column| column.text.as_str()));
                    texts.extend(table.rows.iter().flatten().map(|cell| cell.text.as_str()));
                }
                Block::Picture(picture) => texts.extend([picture.title.as_str(), picture.note.as_str()]),
                // What the author wrote is the author's to explain.
                Block::Quote { .. } => {}
            }
        }
    }
    texts
}

fn has_word(text: &str, word: &str) -> bool {
    word_at(text, word).is_some()
}

fn word_at(text: &str, word: &str) -> Option<usize> {
    let whole = |(at, found): &(usize, &str)| {
        let at = *at;
        let inside = |next: Option<char>| next.is_some_and(|next| next.is_alphanumeric() || next == '-');
        !inside(text[..at].chars().next_back()) && !inside(text[at + found.len()..].chars().next())
    };
    text.match_indices(word).find(whole).map(|(at, _)| at)
}

/// Every term that has a meaning here, in the order in which a reader is likely to meet them.
fn terms() -> Vec<Term> {
    of_results().into_iter().chain(of_statistics()).collect()
}

fn one(name: &'static str, meaning: &'static str) -> Term {
    Term { marks: vec![name], name, meaning, alone: false }
}

/// A word of everyday as well: explained is the word that a table gives.
fn alone(name: &'static str, meaning: &'static str) -> Term {
    Term { alone: true, ..one(name, meaning) }
}

fn of_results() -> Vec<Term> {
    vec![
        one(
            say!("GU"),
            say!(
                "gloss unit: polished black glass of refractive index 1.567 has 100 of them at every angle (ISO 2813)"
            ),
        ),
        one(say!("dE00"), say!("how far two colours lie apart, by the formula CIEDE2000 (ISO/CIE 11664-6)")),
        one(
            say!("fresh"),
            say!("the round read first on the finished coats, from which the wear of a coat counts"),
        ),
        one(
            say!("spent"),
            say!("a section is spent when its reading has passed the limit that the study sets"),
        ),
        one(
            say!("seen"),
            say!(
                "of a difference: its whole interval lies beyond a limit that the study sets; nobody has looked"
            ),
        ),
        alone(
            say!("measurable"),
            say!(
                "of a difference: its interval leaves out zero, so that there is one; it need not be large enough to be seen"
            ),
        ),
        alone(
            say!("alike"),
            say!(
                "of a difference: its whole interval lies within a limit that the study sets, so that it is small"
            ),
        ),
        alone(say!("not settled"), say!("of a difference: neither shown to be there nor shown to be small")),
        one(say!("may lead"), say!("not shown to fall short of the best of the others")),
    ]
}

fn of_statistics() -> Vec<Term> {
    vec![
        Term {
            alone: false,
            marks: vec![say!("95 % interval"), say!("intervals")],
            name: say!("95 % interval"),
            meaning: say!("made so that in 95 of 100 such studies it holds the true value"),
        },
        Term {
            alone: false,
            marks: vec![say!("hold together"), say!("simultaneous")],
            name: say!("hold together, simultaneous"),
            meaning: say!("all intervals of a table are right at once in 95 of 100 such studies"),
        },
        Term {
            alone: false,
            marks: vec![say!("p")],
            name: say!("p"),
            meaning: say!("how often chance alone would give as large a difference where there is none"),
        },
        one(
            say!("Holm"),
            say!(
                "p raised for the number of looks, so that all of them together err in 5 % of studies at most"
            ),
        ),
        one(
            say!("Dunnett"),
            say!("intervals of all differences to one control, bare for one, that hold together"),
        ),
        one(say!("Dilba, Bretz and Guiard"), say!("intervals of all ratios to the blank that hold together")),
        one(say!("Tukey-Kramer"), say!("intervals of all pairs that hold together")),
        one(
            say!("Hsu"),
            say!(
                "intervals of the lead over the best of the others; an end of 0.00 is where they are cut, since only the side that decides is asked"
            ),
        ),
        Term {
            alone: false,
            marks: vec![say!("degrees of freedom")],
            name: say!("degrees of freedom"),
            meaning: say!(
                "on how many independent comparisons of like sections a spread rests; the fewer, the wider its intervals"
            ),
        },
        Term {
            alone: false,
            marks: vec![say!("standard deviation"), say!("SD")],
            name: say!("standard deviation, SD"),
            meaning: say!("how far single values typically lie from their mean"),
        },
        Term {
            alone: false,
            marks: vec![say!("H")],
            name: say!("H"),
            meaning: say!(
                "how far the mean ranks of the treatments lie apart; chance alone gives about its degrees of freedom"
            ),
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::has_word;

    #[test]
    fn a_term_is_found_as_a_whole_word_only() {
        assert!(has_word("by 2 GU.", "GU") && has_word("p (Holm)", "p") && has_word("p", "p"));
        assert!(!has_word("up to", "p") && !has_word("GUM", "GU") && !has_word("fresh-20", "fresh"));
    }
}

//! Letters and signs that look right and are not: dashes for hyphens, accents apart, apostrophes for quotes, powers of ten.

use super::characters::comment;
use super::parser::{Misfit, parse_line};

/// Dashes of word processors, which look like a hyphen.
const DASHES: [char; 6] = ['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2212}'];

/// Marks that people put around a text in place of `"`.
const APOSTROPHES: [char; 5] = ['\'', '‘', '’', '‚', '`'];

/// What is wrong at the place where a line stops fitting, and what to write.
pub(super) fn told(line: &str, misfit: &Misfit, found: &str) -> Option<(String, String)> {
    let code = line[..comment(line)].trim_end();
    let reads = |line: &str| parse_line(misfit.rule, line, 0).is_ok();
    dash(code, found, &reads)
        .or_else(|| apart(code, misfit.at, found))
        .or_else(|| apostrophe(code, found, &reads))
        .or_else(|| power(code, misfit.at, found))
}

/// `gloss–20`: the whole line with hyphens, where it can then be read.
fn dash(code: &str, found: &str, reads: &impl Fn(&str) -> bool) -> Option<(String, String)> {
    let sign = found.chars().next().filter(|sign| DASHES.contains(sign))?;
    let mended = outside_of_texts(code, |c| if DASHES.contains(&c) { '-' } else { c });
    let help = if reads(&mended) {
        format!("write `{}`", mended.split_whitespace().collect::<Vec<_>>().join(" "))
    } else {
        "write the hyphen of the keyboard, `-`".to_owned()
    };
    Some((format!("`{sign}` is a dash, and a name has a hyphen"), help))
}

/// `e` and an accent behind it, which look like one letter (Unicode Standard, chapter 2.11).
fn apart(code: &str, at: usize, found: &str) -> Option<(String, String)> {
    let mark = found.chars().next().filter(|mark| ('\u{300}'..='\u{36f}').contains(mark))?;
    let letter = code.get(..at)?.chars().next_back()?;
    Some((
        format!("`{letter}{mark}` is a letter and a mark apart, which only look like one"),
        "type this letter again, as the keyboard has it".to_owned(),
    ))
}

/// `'text'`: the line with quotes, where it can then be read.
fn apostrophe(code: &str, found: &str, reads: &impl Fn(&str) -> bool) -> Option<(String, String)> {
    let sign = found.chars().next().filter(|sign| APOSTROPHES.contains(sign))?;
    let mended = outside_of_texts(code, |c| if APOSTROPHES.contains(&c) { '"' } else { c });
    let help = if reads(&mended) {
        format!("write `{mended}`")
    } else {
        "put `\"` before the text and behind it".to_owned()
    };
    Some((format!("`{sign}` opens no text: a text stands in `\"`"), help))
}

/// `1e9`: a number is written in figures.
fn power(code: &str, at: usize, found: &str) -> Option<(String, String)> {
    let behind = found.strip_prefix(['e', 'E'])?;
    let sign = behind.strip_prefix(['+', '-']).unwrap_or(behind);
    let power = &found[..found.len() - sign.trim_start_matches(|c: char| c.is_ascii_digit()).len()];
    let before = code.get(..at)?;
    let figures = before.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.');
    let number = format!("{}{power}", &before[figures.len()..]);
    let value: f64 = number.parse().ok().filter(|_| sign.starts_with(|c: char| c.is_ascii_digit()))?;
    let help = match value {
        value if (1e-6..1e15).contains(&value) => format!("write `{value}`"),
        _ => "write all its figures".to_owned(),
    };
    Some((format!("`{number}` is a power of ten, and a number is written in figures"), help))
}

fn outside_of_texts(code: &str, change: impl Fn(char) -> char) -> String {
    let mut quoted = false;
    let changed = code.chars().map(|c| {
        quoted ^= c == '"';
        if quoted { c } else { change(c) }
    });
    changed.collect()
}

//! Slips in lines of the log: no day, no quotes, or nothing that says what was reached.

use super::parser::{Rule, parse_line};

/// What is wrong with a line of the log that stops fitting at `found`, and what to write.
pub(super) fn told(line: &str, before: &str, found: &str, rule: Rule) -> Option<(String, String)> {
    let rest = line.get(3..)?.trim_start_matches([' ', '\t', ':']);
    let (date, rest) = rest.split_once([' ', '\t']).unwrap_or((rest, ""));
    if !date.starts_with(|c: char| c.is_ascii_digit()) {
        return Some((
            "an incident begins with its day".into(),
            "write `log 2026-05-20 C3 \"hail\"`: the day, what was reached, and what happened".into(),
        ));
    }
    let ending = found.eq_ignore_ascii_case("end") || found.eq_ignore_ascii_case("ended");
    if ending && before.trim_end().ends_with(['"', '”', '“']) {
        return Some((
            format!("`{found}` does not say what ends"),
            "write `ends the section` behind what happened".into(),
        ));
    }
    let (reach, happened) = reached(rest.trim_start());
    let (happened, ends) = match happened.strip_suffix("ends the section") {
        Some(happened) => (happened.trim_end_matches([' ', '\t', ',']), "  ends the section"),
        None => (happened, ""),
    };
    if happened.starts_with(['"', '“', '„']) {
        return reach.is_empty().then(|| {
            (
                "nothing says what was reached".into(),
                format!(
                    "write `log {date} all {happened}{ends}`, or `C3`, `row B` or `product bay` for `all`"
                ),
            )
        });
    }
    if let Some((places, text)) = happened
        .find('"')
        .map(|at| rest.trim_start().split_at(rest.trim_start().len() - (happened.len() - at)))
    {
        // What was reached is never guessed wider than it was written.
        let text = text.strip_suffix("ends the section").unwrap_or(text).trim_end_matches([' ', '\t', ',']);
        return Some(unread_places((date, ends), places.trim_end_matches([' ', '\t', ',']), text, rule));
    }
    let all = if reach.is_empty() { "all" } else { reach };
    let (message, text) = match happened {
        "" => ("nothing says what happened", "hail"),
        text => ("what happened stands in quotes, behind what it reached", text),
    };
    let text = text.replace('"', "");
    Some((message.into(), format!("write `log {date} {all} \"{}\"{ends}`", text.trim())))
}

/// Places before a text that say no reach: those of one site, several products, a row of a site.
fn unread_places((date, ends): (&str, &str), places: &str, text: &str, rule: Rule) -> (String, String) {
    let words: Vec<&str> = places.split([' ', '\t', ',']).filter(|word| !word.is_empty()).collect();
    let named: Vec<&str> = words.iter().copied().filter(|word| !word.eq_ignore_ascii_case("and")).collect();
    let line = |reach: &str| format!("log {date} {reach} {text}{ends}");
    let help = match named.as_slice() {
        ["product", products @ ..] if products.len() > 1 => {
            let lines: Vec<String> =
                products.iter().map(|name| format!("`{}`", line(&format!("product {name}")))).collect();
            format!("write a line for each: {}", lines.join(" and "))
        }
        [site, "all"] => format!("write `{}`, which is all of that site", line(site)),
        [site, "row", row, ..] => {
            format!(
                "name the sections of that row, as `{}`",
                line(&format!("{site} {row}1 and {site} {row}2"))
            )
        }
        [site, codes @ ..] if codes.len() > 1 => {
            let sections: Vec<String> = codes.iter().map(|code| format!("{site} {code}")).collect();
            format!("write `{}`", line(&sections.join(" and ")))
        }
        _ => String::new(),
    };
    let reads = |help: &str| {
        help.split('`').skip(1).step_by(2).all(|line| parse_line(rule, line, 0).is_ok()) && !help.is_empty()
    };
    let help = if reads(&help) {
        help
    } else {
        "name what was reached before the text: sections joined by `and`, as `A1 and C3`, `row B`, `product bay` or `all`"
            .to_owned()
    };
    (format!("`{places}` does not say which sections were reached"), help)
}

/// What stands before the text of an incident and what it reached, as far as that can be told.
fn reached(rest: &str) -> (&str, &str) {
    let mut end = 0;
    let mut named = false;
    let mut at = 0;
    for word in rest.split_inclusive([' ', '\t', ',']) {
        let bare = word.trim_end_matches([' ', '\t', ',']);
        let letters = bare.len() - bare.trim_start_matches(|c: char| c.is_ascii_alphabetic()).len();
        let code = (1..=2).contains(&letters)
            && bare.len() > letters
            && bare[letters..].bytes().all(|byte| byte.is_ascii_digit());
        let word_of_reach = ["all", "row", "product", "and"].contains(&bare.to_lowercase().as_str());
        if !(code || word_of_reach || named || bare.is_empty()) {
            break;
        }
        named = ["row", "product"].contains(&bare.to_lowercase().as_str());
        at += word.len();
        end = if bare.is_empty() { end } else { at - (word.len() - bare.len()) };
    }
    (&rest[..end], rest[end..].trim_start_matches([' ', '\t', ',']))
}

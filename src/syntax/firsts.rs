//! Slips that are looked at before any other, since the line would read by chance once a word is put in: scales, mixes, rounds.

/// What is wrong, and what to write.
pub(super) type Told = Option<(String, String)>;

/// The word of a time that names rounds, of any spelling.
pub(super) fn time_word(word: &str) -> Option<&'static str> {
    let word = word.to_lowercase();
    let word = word.strip_suffix('s').unwrap_or(&word);
    ["day", "week", "month", "year"].into_iter().find(|known| *known == word)
}

/// `measure stain from 0 to 5`, `measure stain scale 0-5`: a scale that is not called a rating; `rest` stands behind the name.
pub(super) fn rating(name: &str, rest: &str) -> Told {
    let (low, high) = scale(rest)?;
    Some(("a scale of marks is a rating".into(), format!("write `measure {name}, a rating {low} to {high}`")))
}

/// The two whole numbers of a scale, and nothing else that has figures.
pub(super) fn scale(text: &str) -> Option<(u32, u32)> {
    let text = text.split('#').next().unwrap_or("").replace(['\u{2013}', '-'], " to ").replace("..", " to ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let at = words.iter().position(|word| *word == "to")?;
    let low = words.get(at.checked_sub(1)?)?.parse::<u32>().ok()?;
    let high = words.get(at + 1)?.parse::<u32>().ok()?;
    let numbers = words.iter().filter(|word| word.starts_with(|c: char| c.is_ascii_digit())).count();
    (low < high && numbers == 2).then_some((low, high))
}

/// `2:1 with hardener`, `2 parts to 1 "Duo B"`: two parts, the second by its name; `line` begins with `mix`.
pub(super) fn mix(line: &str) -> Told {
    let written = line.trim_start_matches(char::is_alphabetic).trim_start_matches([' ', '\t', ':']);
    let (one, rest) = figures(written)?;
    let rest = rest.trim_start();
    let word = |rest: &'_ str, words: &[&str]| {
        words.iter().find_map(|word| {
            let behind = rest.strip_prefix(word)?;
            (!behind.starts_with(char::is_alphanumeric)).then(|| behind.trim_start().len())
        })
    };
    let skip = |rest: &str, words: &[&str]| word(rest, words).map_or(rest.len(), |left| left);
    let rest = &rest[rest.len() - skip(rest, &["parts", "part"])..];
    let left = word(rest, &[":", "to"])?;
    let (other, rest) = figures(&rest[rest.len() - left..])?;
    let mut rest = rest.trim_start();
    for words in [&["parts", "part"][..], &["with", "of", "by", "to"][..]] {
        rest = &rest[rest.len() - skip(rest, words)..];
    }
    let called = rest.split('#').next()?.trim().trim_matches(['"', '\u{201c}', '\u{201d}', ',']);
    let name: Vec<String> = called.split_whitespace().map(str::to_lowercase).collect();
    let name = name.join("-");
    let sound = name.starts_with(char::is_alphabetic)
        && name.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_'));
    let parts = if one == "1" { "1 part".to_owned() } else { format!("{one} parts") };
    (sound && name != "volume" && name != "mass").then(|| {
        (
            "the second part of a mix is named by its supply, in one word".into(),
            format!("write `mix {parts} to {other} {name}`, with a block `supply {name}`"),
        )
    })
}

/// Units of a time by minutes, from the longest; the first spelling of each is the one that is written.
const SPANS: [(&[&str], f64); 4] = [
    (&["days", "day", "d"], 1440.0),
    (&["h", "hours", "hour", "hrs", "hr"], 60.0),
    (&["min", "minutes", "minute", "mins", "m"], 1.0),
    (&["s", "seconds", "second", "secs", "sec"], 1.0 / 60.0),
];

/// The line with one unit where it has a time in two, as `cure 1 day 12 hours`, `flash 1 h and 30 min`, `dry 1h30`.
pub(super) fn in_one_unit(line: &str) -> Option<String> {
    let code = line.split('#').next()?.trim_end();
    let tokens: Vec<(usize, &str)> = apart(code).into_iter().filter(|(_, word)| *word != "and").collect();
    let word = |at: usize| tokens.get(at).map(|(_, word)| *word);
    let unit =
        |at: usize| SPANS.iter().position(|(words, _)| word(at).is_some_and(|one| words.contains(&one)));
    let number = |at: usize| word(at).and_then(|word| word.parse::<f64>().ok());
    let found = |&at: &usize| number(at).is_some() && unit(at + 1).is_some() && number(at + 2).is_some();
    let at = (0..tokens.len()).find(found)?;
    let (first, named) = (unit(at + 1)?, unit(at + 3));
    // `1h30` leaves out what follows from the first unit.
    let second = named.or_else(|| word(at + 3).is_none().then_some(first + 1)).filter(|&one| one != first)?;
    let (_, finer) = SPANS.get(first.max(second))?;
    let sum = (number(at)? * SPANS[first].1 + number(at + 2)? * SPANS[second].1) / finer;
    let whole = (sum - sum.round()).abs() < 1e-9;
    let last = tokens[at + 2 + usize::from(named.is_some())];
    let (before, behind) = (&code[..tokens[at].0], &code[last.0 + last.1.len()..]);
    let time = format!("{} {}", sum.round(), SPANS[first.max(second)].0[0]);
    whole.then(|| format!("{before}{time}{behind}").trim().to_owned())
}

/// `uses 12 m2 per litre`, as cans say it: how far a litre goes in the place of what an area takes.
pub(super) fn reach(line: &str) -> Told {
    let code = line.split('#').next()?.to_lowercase().replace(['/', '\u{b2}'], " ");
    let words: Vec<&str> = code.split_whitespace().filter(|word| *word != "per").collect();
    let at = words.iter().position(|word| matches!(*word, "m2" | "m" | "sqm"))?;
    let (area, of) = (words.get(at.checked_sub(1)?)?.parse::<f64>().ok()?, *words.get(at + 1)?);
    let unit = match of {
        "l" | "litre" | "liter" | "litres" | "liters" => "ml",
        "kg" | "kilo" | "kilogram" => "g",
        _ => return None,
    };
    let amount = (10_000.0 / area).round() / 10.0;
    let written = if area > 0.0 && amount > 0.0 {
        format!("write `uses {amount} {unit} per m2`")
    } else {
        format!("write how much goes on an area, as `uses 80 {unit} per m2`")
    };
    Some(("what an area takes stands here".into(), written))
}

/// The words of a line, with figures and letters apart, each with where it begins.
fn apart(code: &str) -> Vec<(usize, &str)> {
    let kind = |c: char| (c.is_whitespace(), c.is_ascii_digit() || c == '.');
    let mut words = Vec::new();
    let mut from = 0;
    while let Some(first) = code[from..].chars().next() {
        let end = code[from..].find(|c| kind(c) != kind(first)).map_or(code.len(), |end| from + end);
        if !first.is_whitespace() {
            words.push((from, &code[from..end]));
        }
        from = end;
    }
    words
}

/// `spent when below 80 % of the start`: a word too many, and a share of what is neither the fresh round nor the baseline.
pub(super) fn spent(line: &str) -> Told {
    let words: Vec<&str> = line.split('#').next()?.split_whitespace().collect();
    let kept: Vec<&str> = words
        .iter()
        .copied()
        .filter(|word| !["when", "if", "once", "it", "is", "the"].contains(word))
        .collect();
    let (share, named) = kept.split_at(kept.iter().position(|word| *word == "of").unwrap_or(kept.len()));
    let other = named.get(1).is_some_and(|word| !["fresh", "baseline"].contains(word));
    if other && share.iter().any(|word| word.ends_with('%')) {
        let written = format!("write `{} of fresh`, or `of baseline`", share.join(" "));
        return Some(("a share is that of the fresh round or of the baseline".into(), written));
    }
    let fewer = kept.len() < words.len() && kept.len() >= 3;
    fewer.then(|| ("a word too many stands here".into(), format!("write `{}`", kept.join(" "))))
}

fn figures(text: &str) -> Option<(&str, &str)> {
    let end = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
    (end > 0).then(|| text.split_at(end))
}

/// `month 1, 3, 6`, `months 3 and 6 gloss-60 5 times`, `month 6 to 12`: several rounds on one line.
pub(super) fn rounds(line: &str) -> Told {
    let code = line.split('#').next()?;
    let mut words = code.split([' ', '\t', ',']).filter(|word| !word.is_empty()).peekable();
    let word = time_word(words.peek()?.trim_end_matches(':'))?;
    words.next();
    let (mut numbers, mut joined) = (Vec::new(), false);
    let comma = code.split_once(',').map_or("", |(before, _)| before).split_whitespace().count() == 2;
    while let Some(next) = words.peek() {
        let plain = next.bytes().all(|byte| byte.is_ascii_digit());
        let joins = matches!(*next, "and" | "to" | "-" | "&" | "\u{2013}");
        if plain && (numbers.is_empty() || joined || comma) {
            numbers.push((*next).to_owned());
            joined = false;
        } else if joins || (time_word(next).is_some() && !numbers.is_empty()) {
            joined = true;
        } else {
            break;
        }
        words.next();
    }
    let rest = words.collect::<Vec<_>>().join(" ");
    if let &[number] = &numbers.as_slice() {
        return turned(word, number, &rest);
    }
    let [first, second, ..] = numbers.as_slice() else { return None };
    let line = |number: &str| format!("`{word} {number} {rest}`").replace(" `", "`");
    Some((
        "each round has a line of its own".into(),
        format!("write {} and, on the next line, {}", line(first), line(second))
            + if numbers.len() > 2 { ", and so on" } else { "" },
    ))
}

/// `month 3  5 gloss-60 readings`: how often stands behind what is read.
fn turned(word: &str, number: &str, rest: &str) -> Told {
    let words: Vec<&str> = rest.split_whitespace().collect();
    let &[times, measure, ref behind @ ..] = words.as_slice() else { return None };
    let is_count = times.parse::<u32>().is_ok() && measure.starts_with(char::is_alphabetic);
    let said = matches!(behind, [] | ["readings" | "reading" | "times"]) && time_word(measure).is_none();
    (is_count && said).then(|| {
        (
            "how often stands behind what is read".into(),
            format!("write `{word} {number} {measure} {times} times`"),
        )
    })
}

//! Wording that every message shares: counts with their plural, lists, and the nearest known word.

/// `1 section`, `3 sections`.
pub fn count(n: usize, noun: &str) -> String {
    format!("{n} {}", plural(n, noun))
}

/// The noun in the number that `n` asks for. Knows the few irregular nouns of this trade.
pub fn plural(n: usize, noun: &str) -> String {
    if n == 1 {
        return noun.to_owned();
    }
    match noun.strip_suffix('y') {
        Some(stem) if !stem.ends_with(['a', 'e', 'o', 'u']) => format!("{stem}ies"),
        _ if noun.ends_with('s') || noun.ends_with('x') || noun.ends_with("ch") => format!("{noun}es"),
        _ => format!("{noun}s"),
    }
}

/// `A1`, `A1 and B2`, `A1, B2 and C3`. The last joint is given, as "and" or "or".
pub fn list<S: AsRef<str>>(items: &[S], joint: &str) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [rest @ .., last] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} {joint} {}", rest.join(", "), last.as_ref())
        }
    }
}

/// The candidate that differs least from `word`, if it is near enough to be what was meant.
///
/// Distance counts insertions, deletions, replacements and swaps of neighbours (optimal string
/// alignment, Damerau 1964), without regard to capitals; a third of the word may differ.
pub fn nearest<'c>(word: &str, candidates: impl IntoIterator<Item = &'c str>) -> Option<&'c str> {
    let word = fold(word);
    // A very long word is no misspelling, and comparing it would cost more than it tells.
    if word.is_empty() || word.len() > 40 {
        return None;
    }
    let limit = (word.len() / 3).clamp(1, 3);
    candidates
        .into_iter()
        .filter(|candidate| candidate.chars().count().abs_diff(word.len()) <= limit)
        .filter(|candidate| !is_another_number(&word, &fold(candidate)))
        .map(|candidate| (distance(&word, &fold(candidate)), candidate))
        .filter(|&(distance, candidate)| distance <= limit && distance < candidate.chars().count())
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, candidate)| candidate)
}

/// A number is no misspelling of another one, nor is a code of another row: who follows such a guess puts `B6` down as `A6`.
fn is_another_number(word: &[char], candidate: &[char]) -> bool {
    let part = |of: &[char], digits: bool| -> Vec<char> {
        of.iter().copied().filter(|c| if digits { c.is_ascii_digit() } else { c.is_alphabetic() }).collect()
    };
    let (number, other_number) = (part(word, true), part(candidate, true));
    if number.is_empty() || other_number.is_empty() {
        return false;
    }
    let (letters, other_letters) = (part(word, false), part(candidate, false));
    number != other_number || (letters != other_letters && other_letters.len() <= 2)
}

fn fold(word: &str) -> Vec<char> {
    word.chars().flat_map(char::to_lowercase).collect()
}

fn distance(a: &[char], b: &[char]) -> usize {
    let width = b.len() + 1;
    let mut table = vec![0; (a.len() + 1) * width];
    for i in 0..=a.len() {
        for j in 0..=b.len() {
            let at = i * width + j;
            table[at] = if i == 0 || j == 0 {
                i + j
            } else {
                let replace = table[at - width - 1] + usize::from(a[i - 1] != b[j - 1]);
                let mut best = replace.min(table[at - 1] + 1).min(table[at - width] + 1);
                if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                    best = best.min(table[at - 2 * width - 2] + 1);
                }
                best
            };
        }
    }
    table.last().copied().unwrap_or(0)
}

/// A number with two digits that count, for words such as "about 6.8 section spreads".
pub fn two_digits(value: f64) -> String {
    if value.abs() >= 10.0 || value == 0.0 {
        return format!("{value:.0}");
    }
    let mut places = 1;
    let mut scaled = value.abs();
    while scaled < 1.0 && places < 9 {
        scaled *= 10.0;
        places += 1;
    }
    format!("{value:.places$}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearest_takes_slips_of_the_finger_only() {
        let words = ["rinse", "dwell", "tool", "with"];
        assert_eq!(nearest("rince", words), Some("rinse"));
        assert_eq!(nearest("dewll", words), Some("dwell"));
        assert_eq!(nearest("RINSE", words), Some("rinse"));
        assert_eq!(nearest("zzzzz", words), None);
        assert_eq!(nearest("", words), None);
        assert_eq!(nearest(&"r".repeat(1000), words), None);
    }

    #[test]
    fn a_number_is_no_slip_of_another_one() {
        let words = ["month 1", "month 18", "A6", "gloss-60"];
        for other in ["month 17", "month 8", "B6", "A7", "gloss-20"] {
            assert_eq!(nearest(other, words), None, "{other}");
        }
        for (slip, meant) in [("mnth 18", "month 18"), ("a6", "A6"), ("A-6", "A6"), ("glos-60", "gloss-60")] {
            assert_eq!(nearest(slip, words), Some(meant));
        }
    }

    #[test]
    fn lists_and_counts_read_as_english() {
        assert_eq!(list(&["A1", "B2", "C3"], "and"), "A1, B2 and C3");
        assert_eq!(list(&["A1"], "or"), "A1");
        assert_eq!(count(1, "reading"), "1 reading");
        assert_eq!(count(2, "category"), "2 categories");
        assert_eq!(count(0, "day"), "0 days");
    }

    #[test]
    fn two_digits_count() {
        let texts = [52.3, 6.84, 0.197, 0.0021].map(two_digits);
        assert_eq!(texts, ["52", "6.8", "0.20", "0.0021"]);
    }
}

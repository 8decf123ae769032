//! Numbers with their units as the language that is spoken writes them.

use super::{Language, said, say, spoken};
use jiff::civil::Date;

/// The mark before the decimals.
pub fn decimal_mark() -> char {
    match spoken() {
        Language::English => '.',
        Language::German => ',',
    }
}

/// A number in figures, with the decimal mark of the language that is spoken for its point.
pub fn marked(number: &str) -> String {
    number.replace('.', &decimal_mark().to_string())
}

/// A day: `2026-03-14`, `14. März 2026`.
pub fn day(date: Date) -> String {
    const MONTHS: [&str; 12] = [
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
    let month = usize::try_from(date.month() - 1).ok().and_then(|at| MONTHS.get(at));
    match (spoken(), month) {
        (Language::German, Some(month)) => format!("{}. {month} {}", date.day(), date.year()),
        _ => date.to_string(),
    }
}

/// A quantity or range as the study writes it, `2.5 to 4 days`, in the language that is spoken.
pub fn quantity(text: &str) -> String {
    if spoken() == Language::English {
        return text.to_owned();
    }
    let words: Vec<&str> = text.split(' ').collect();
    let is_number = |word: &&&str| word.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '−'));
    let numbers = words.iter().take_while(|word| is_number(word) || **word == "to").count();
    let number = |word: &&str| match *word {
        "to" => say!("to").to_owned(),
        digits => marked(digits),
    };
    let mut out: Vec<String> = words.iter().take(numbers).map(number).collect();
    match words.get(numbers..).map(|rest| rest.join(" ")) {
        Some(rest) if !rest.is_empty() => out.push(unit(&rest).to_owned()),
        _ => {}
    }
    out.join(" ")
}

/// A unit whose name has words in it, `% by volume`; a symbol stays as it is.
pub fn unit(symbol: &str) -> &str {
    said(symbol)
}

#[cfg(test)]
mod tests {
    use super::super::speak;
    use super::*;

    #[test]
    fn quantities_follow_the_language() {
        assert_eq!(quantity("2.5 to 4 days"), "2.5 to 4 days");
        let _german = speak(Language::German);
        assert_eq!(quantity("2.5 to 4 days"), "2,5 bis 4 Tage");
        assert_eq!(quantity("35 % by volume"), "35 Vol.-%");
        assert_eq!(quantity("0.5 GU"), "0,5 GU");
    }
}

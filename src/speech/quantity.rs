//! Numbers with their units as the language that is spoken writes them.

use super::{Language, say, spoken, translation};
use crate::markup::GERMAN_MONTHS;
use jiff::civil::Date;
use std::borrow::Cow;

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
    let month = usize::try_from(date.month() - 1).ok().and_then(|at| GERMAN_MONTHS.get(at));
    match (spoken(), month) {
        (Language::German, Some(month)) => format!("{}. {month} {}", date.day(), date.year()),
        _ => date.to_string(),
    }
}

/// A quantity or range as the study writes it, `2.5 to 4 days`, in the language that is spoken.
pub fn quantity(text: &str) -> String {
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
    tight(out.join(" "))
}

/// A text with the sign of an angle right behind its number, as `45°`; that of a temperature stands apart, as `20 °C` (SI Brochure,
/// 9th edition, 5.4.3).
pub fn tight(text: String) -> String {
    if !text.contains(" °") {
        return text;
    }
    let mut out = String::with_capacity(text.len());
    let mut rest = text.as_str();
    while let Some((before, after)) = rest.split_once(" °") {
        let is_angle =
            before.ends_with(|c: char| c.is_ascii_digit()) && !after.starts_with(char::is_alphabetic);
        out.push_str(before);
        out.push_str(if is_angle { "°" } else { " °" });
        rest = after;
    }
    out + rest
}

/// A unit as a page prints it: `°C`, `µm`, `ml per m²`, and what has words in it, as `% by volume`, in the language that is
/// spoken. Studies and tables keep what every keyboard has.
pub fn unit(symbol: &str) -> &str {
    translation(symbol).unwrap_or(match symbol {
        "degC" => "°C",
        "degF" => "°F",
        "deg" => "°",
        "um" => "µm",
        "ul" => "µl",
        "ug" => "µg",
        "mm2" => "mm²",
        "cm2" => "cm²",
        "m2" => "m²",
        "mm3" => "mm³",
        "cm3" => "cm³",
        "m3" => "m³",
        "ml per m2" => "ml per m²",
        "l per m2" => "l per m²",
        "g per m2" => "g per m²",
        "W/m2" => "W/m²",
        "mW/cm2" => "mW/cm²",
        "uW/cm2" => "µW/cm²",
        "J/m2" => "J/m²",
        "kJ/m2" => "kJ/m²",
        "MJ/m2" => "MJ/m²",
        "Wh/m2" => "Wh/m²",
        "kWh/m2" => "kWh/m²",
        "g/m2" => "g/m²",
        "mg/m2" => "mg/m²",
        "mg/cm2" => "mg/cm²",
        "ug/cm2" => "µg/cm²",
        "ml/m2" => "ml/m²",
        "l/m2" => "l/m²",
        "N/mm2" => "N/mm²",
        "g/cm3" => "g/cm³",
        "g/m3" => "g/m³",
        "mg/m3" => "mg/m³",
        "ug/m3" => "µg/m³",
        "uS/cm" => "µS/cm",
        own => own,
    })
}

/// The name of a round: those that the language of studies has are said, as `month 6`; a user's own stays as it is.
pub fn round_name(name: &str) -> Cow<'_, str> {
    if spoken() == Language::English {
        return Cow::Borrowed(name);
    }
    let Some((word, n)) = name.split_once([' ', '-']).filter(|(_, n)| n.parse::<u32>().is_ok()) else {
        return Cow::Borrowed(match name {
            "baseline" => say!("baseline"),
            "fresh" => say!("fresh"),
            own => own,
        });
    };
    Cow::Owned(match word.to_lowercase().as_str() {
        "day" => say!("day {n}", n),
        "week" => say!("week {n}", n),
        "month" => say!("month {n}", n),
        "year" => say!("year {n}", n),
        "cycle" => say!("cycle {n}", n),
        _ => return Cow::Borrowed(name),
    })
}

/// A round of the German catalogue as a time: `nach 3 Monaten`, `bei der Ausgangsmessung`; a user's own name follows the
/// preposition as it is.
pub(super) fn at_round(name: &str, preposition: &str) -> String {
    const COUNTED: [(&str, &str); 5] = [
        ("Tag", "Tagen"),
        ("Woche", "Wochen"),
        ("Monat", "Monaten"),
        ("Jahr", "Jahren"),
        ("Zyklus", "Zyklen"),
    ];
    let counted = name.split_once(' ').and_then(|(word, n)| {
        let n: u32 = n.parse().ok()?;
        let (one, many) = COUNTED.iter().find(|(one, _)| *one == word)?;
        Some(format!("nach {n} {}", if n == 1 { one } else { many }))
    });
    let named = || format!("{preposition} {}", with_article(name).unwrap_or_else(|| name.to_owned()));
    counted.unwrap_or_else(named)
}

/// A round of the German catalogue in the dative with its article, where it has one.
pub(super) fn with_article(name: &str) -> Option<String> {
    ["Ausgangsmessung", "Frischmessung"].contains(&name).then(|| format!("der {name}"))
}

#[cfg(test)]
mod tests {
    use super::super::speak;
    use super::*;

    #[test]
    fn quantities_follow_the_language() {
        assert_eq!(quantity("2.5 to 4 days"), "2.5 to 4 days");
        assert_eq!(
            ["18 to 22 degC", "90 ml per m2", "85 um"].map(quantity),
            ["18 to 22 °C", "90 ml per m²", "85 µm"]
        );
        let _german = speak(Language::German);
        assert_eq!(quantity("2.5 to 4 days"), "2,5 bis 4 Tage");
        assert_eq!(quantity("35 % by volume"), "35 Vol.-%");
        assert_eq!(quantity("0.5 GU"), "0,5 GU");
        assert_eq!(
            ["18 to 22 degC", "90 ml per m2", "85 um"].map(quantity),
            ["18 bis 22 °C", "90 ml je m²", "85 µm"]
        );
    }

    #[test]
    fn an_angle_has_its_sign_right_behind_it_and_a_temperature_apart() {
        assert_eq!(
            ["45 deg", "2 to 5 deg", "20 degC", "5 mg/m3"].map(quantity),
            ["45°", "2 to 5°", "20 °C", "5 mg/m³"]
        );
        assert_eq!(tight("−25.8 °, in ° and 20 °C; 3 °.".to_owned()), "−25.8°, in ° and 20 °C; 3°.");
    }

    #[test]
    fn a_round_is_said_as_a_time() {
        let names = ["Monat 3", "Monat 1", "Tag 8", "Ausgangsmessung", "haul-out", "Monat drei"];
        let at = names.map(|name| at_round(name, "bei"));
        assert_eq!(at[..3], ["nach 3 Monaten", "nach 1 Monat", "nach 8 Tagen"]);
        assert_eq!(at[3..], ["bei der Ausgangsmessung", "bei haul-out", "bei Monat drei"]);
        assert_eq!(at_round("haul-out", "nach"), "nach haul-out");
        assert_eq!(with_article("Monat 3"), None);
    }

    #[test]
    fn rounds_are_said_and_own_names_stay() {
        let names = ["month 12", "Week 3", "day-8", "cycle 4", "baseline", "spring", "wash 10", "month end"];
        assert_eq!(names.map(round_name), names);
        let _german = speak(Language::German);
        let said =
            ["Monat 12", "Woche 3", "Tag 8", "Zyklus 4", "Ausgangsmessung", "spring", "wash 10", "month end"];
        assert_eq!(names.map(round_name), said);
    }
}

//! The starter study, with its days counted from the one on which the work begins.

use jiff::civil::{Date, date};

/// The study as it lies beside this file.
const STARTER: &str = include_str!("starter.study");
/// The day on which the work begins in it.
const BEGINS: Date = date(2026, 9, 7);

/// The starter study for work that begins on a day; `None` where one of its days is none of the calendar.
///
/// Every day in it keeps its distance, so that it checks clean whenever it is written.
pub(super) fn starter(begins: Date) -> Option<String> {
    let later = BEGINS.until(begins).ok()?;
    let mut text = String::with_capacity(STARTER.len());
    let mut rest = STARTER;
    while let Some(at) = rest.bytes().position(|byte| byte.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        text.push_str(before);
        let figures =
            from.bytes().position(|byte| !byte.is_ascii_digit() && byte != b'-').unwrap_or(from.len());
        let (word, after) = from.split_at(figures);
        match word.parse::<Date>() {
            Ok(day) => text.push_str(&day.checked_add(later).ok()?.to_string()),
            Err(_) => text.push_str(word),
        }
        rest = after;
    }
    text.push_str(rest);
    Some(text)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pipeline::{Day, check};
    use jiff::ToSpan;

    #[test]
    fn on_its_own_day_it_is_the_file() {
        assert_eq!(starter(BEGINS).unwrap(), STARTER);
    }

    #[test]
    fn it_checks_clean_on_whatever_day_it_is_written() {
        // A step of 13 days meets every day of the month, and 29 February of two leap years.
        let mut day = date(2027, 12, 31);
        while day < date(2032, 3, 1) {
            let text = starter(day).unwrap();
            assert_eq!(text.len(), STARTER.len(), "{day}");
            for today in [day, day.checked_add(1.day()).unwrap()] {
                let findings = check("my.study", &text, &[], Day::Today(today)).findings;
                assert_eq!(findings, [], "{day}");
            }
            day = day.checked_add(13.days()).unwrap();
        }
        for day in [date(2028, 2, 29), date(2032, 2, 29), date(2031, 8, 31)] {
            assert_eq!(check("my.study", &starter(day).unwrap(), &[], Day::Today(day)).findings, []);
        }
    }

    #[test]
    fn a_day_at_the_end_of_the_calendar_has_none() {
        assert_eq!(starter(date(9999, 12, 31)), None);
    }
}

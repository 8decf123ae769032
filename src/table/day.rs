//! Reads the date of a row; a date that can be read in two ways is asked about, never guessed.

use jiff::civil::{Date, Time};

/// Why a date was not taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DayFault {
    /// Day and month could change places; both readings.
    TwoWays(Date, Date),
    /// Only this day can be meant, but it must be written year first.
    Write(Date),
    /// A year of two figures; the day if that is so, and the other where day and month could change places.
    Short(Date, Option<Date>),
    /// The calendar has no such day: the last day of that month.
    NotThere(Date),
    /// The number by which spreadsheets count days; the day that it is.
    Counted(Date),
    /// No day at all.
    NoDay,
}

/// Reads `2026-04-13`, also with slashes or points and with a clock time behind it, and `13.04.2026`, whose day stands first.
///
/// # Errors
/// [`DayFault`], with the days that may be meant.
pub fn day(text: &str) -> Result<Date, DayFault> {
    // The usual spelling, without the lists that the others need.
    if let &[y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = text.as_bytes() {
        let all = [y1, y2, y3, y4, m1, m2, d1, d2];
        if all.iter().all(u8::is_ascii_digit) {
            let number = |digits: &[u8]| digits.iter().fold(0, |sum, byte| sum * 10 + i16::from(byte - b'0'));
            let (year, month, day) = (number(&all[..4]), number(&all[4..6]), number(&all[6..]));
            return civil(year, month, day).ok_or_else(|| not_there(year, month, day));
        }
    }
    let date = text.split(['T', ' ']).next().unwrap_or("");
    let parts: Vec<&str> = date.split(['-', '/', '.']).collect();
    let [first, second, third] = parts[..] else {
        return Err(counted(date).or_else(|| in_words(text)).unwrap_or(DayFault::NoDay));
    };
    let (Some(a), Some(b), Some(c)) = (digits(first), digits(second), digits(third)) else {
        return Err(in_words(text).unwrap_or(DayFault::NoDay));
    };
    if first.len() == 4 {
        return civil(a, b, c).ok_or_else(|| not_there(a, b, c));
    }
    // With points the day stands first (DIN 5008), as spreadsheets set to such a country save it.
    let pointed = date.bytes().filter(|&byte| byte == b'.').count() == 2;
    // A year of two digits would be one more guess.
    if third.len() != 4 {
        let year = if third.len() == 2 { 2000 + c } else { return Err(DayFault::NoDay) };
        let other = civil(year, a, b).filter(|_| !pointed);
        return Err(match (civil(year, b, a), other) {
            (Some(one), other) => DayFault::Short(one, other.filter(|other| *other != one)),
            (None, Some(other)) => DayFault::Short(other, None),
            (None, None) => DayFault::NoDay,
        });
    }
    if let Some(one) = civil(c, b, a).filter(|_| pointed) {
        return Ok(one);
    }
    match (civil(c, b, a), civil(c, a, b)) {
        (Some(one), Some(other)) if one != other => Err(DayFault::TwoWays(one, other)),
        (Some(one), _) | (None, Some(one)) => Err(DayFault::Write(one)),
        (None, None) => Err(not_there(c, b, a)),
    }
}

/// `2026-02-30`: the month is there, and has not so many days.
fn not_there(year: i16, month: i16, day: i16) -> DayFault {
    let last = civil(year, month, 1).map(Date::last_of_month);
    last.filter(|_| (1..=31).contains(&day)).map_or(DayFault::NoDay, DayFault::NotThere)
}

/// `45721`: the days since 1899-12-30, as spreadsheets save a day that is not formatted as one; of years in which studies lie.
fn counted(text: &str) -> Option<DayFault> {
    let days: i32 = text.split(['.', ',']).next()?.parse().ok().filter(|_| text.len() >= 5)?;
    let day = jiff::civil::date(1899, 12, 30).checked_add(jiff::Span::new().try_days(days).ok()?).ok()?;
    ((2000..2100).contains(&day.year())).then_some(DayFault::Counted(day))
}

/// The months by the first letters of their names, in English, then in German where that differs.
const MONTHS: [(&str, &str); 12] = [
    ("jan", "jän"),
    ("feb", "feb"),
    ("mar", "mär"),
    ("apr", "apr"),
    ("may", "mai"),
    ("jun", "jun"),
    ("jul", "jul"),
    ("aug", "aug"),
    ("sep", "sep"),
    ("oct", "okt"),
    ("nov", "nov"),
    ("dec", "dez"),
];

/// `5 Mar 2025`, `Mar 5, 2025`, `5-Mar-25`: a day whose month is a word.
fn in_words(text: &str) -> Option<DayFault> {
    let (mut year, mut month, mut day) = (None, None, None);
    for word in text.split([' ', '-', '.', ',', '/']).filter(|word| !word.is_empty()) {
        let start: String = word.to_lowercase().chars().take(3).collect();
        let named = MONTHS.iter().position(|(english, german)| start == *english || start == *german);
        match (named, digits(word)) {
            (Some(at), _) if month.is_none() => month = i16::try_from(at + 1).ok(),
            (None, Some(number)) if word.len() == 4 => year = Some(number),
            (None, Some(number)) if day.is_none() => day = Some(number),
            (None, Some(number)) if year.is_none() && word.len() == 2 => year = Some(2000 + number),
            _ => return None,
        }
    }
    let (year, month, day) = (year?, month?, day?);
    Some(civil(year, month, day).map_or_else(|| not_there(year, month, day), DayFault::Write))
}

/// A time of day: `9:30`, `09:30`, `09:30:15`, `9.30`, with `am` or `pm` behind it or without.
pub fn clock(text: &str) -> Option<Time> {
    let lower = text.to_ascii_lowercase();
    let half = lower.strip_suffix("am").or_else(|| lower.strip_suffix("pm"));
    let parts: Vec<&str> = half.unwrap_or(&lower).trim_end().split([':', '.']).collect();
    let (own, rest) = parts.split_first()?;
    if rest.len() > 2 || (rest.is_empty() && half.is_none()) {
        return None;
    }
    let below = |text: &str, limit: i16| {
        let number = if text.len() <= 2 { digits(text) } else { None };
        number.filter(|&number| number < limit)
    };
    let hour = match (below(own, 24)?, half) {
        (hour, None) => hour,
        (13.., Some(_)) => return None,
        (hour, Some(_)) => hour % 12 + if lower.ends_with("pm") { 12 } else { 0 },
    };
    let minute = |at: usize| match rest.get(at) {
        None => Some(0),
        Some(text) if text.len() == 2 => below(text, 60),
        Some(_) => None,
    };
    let part = |number: i16| i8::try_from(number).ok();
    Time::new(part(hour)?, part(minute(0)?)?, part(minute(1)?)?, 0).ok()
}

fn digits(text: &str) -> Option<i16> {
    let all = (1..=4).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    if all { text.parse().ok() } else { None }
}

/// A day of the calendar, in years in which studies lie.
fn civil(year: i16, month: i16, day: i16) -> Option<Date> {
    if !(1900..=2200).contains(&year) {
        return None;
    }
    Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn a_date_with_the_year_first_is_taken() {
        for text in ["2026-04-13", "2026/4/13", "2026.04.13", "2026-04-13T10:20", "2026-04-13 10:20"] {
            assert_eq!(day(text), Ok(date(2026, 4, 13)), "{text}");
        }
    }

    #[test]
    fn a_date_that_reads_two_ways_shows_both() {
        let both = DayFault::TwoWays(date(2026, 4, 3), date(2026, 3, 4));
        assert_eq!(day("03/04/2026"), Err(both));
        assert_eq!(day("13/04/2026"), Err(DayFault::Write(date(2026, 4, 13))));
        assert_eq!(day("04/13/2026"), Err(DayFault::Write(date(2026, 4, 13))));
        assert_eq!(day("04/04/2026"), Err(DayFault::Write(date(2026, 4, 4))));
    }

    #[test]
    fn with_points_the_day_stands_first() {
        for text in ["04.05.2026", "4.5.2026", "04.05.2026 10:20"] {
            assert_eq!(day(text), Ok(date(2026, 5, 4)), "{text}");
        }
        // No such day; only the other order can be meant, and that is asked for.
        assert_eq!(day("05.13.2026"), Err(DayFault::Write(date(2026, 5, 13))));
        assert_eq!(day("04.05-2026"), Err(DayFault::TwoWays(date(2026, 5, 4), date(2026, 4, 5))));
        assert_eq!(day("04.05.26"), Err(DayFault::Short(date(2026, 5, 4), None)));
    }

    #[test]
    fn times_of_day_have_24_hours_of_60_minutes() {
        for text in ["9:30", "09:30", "23:59", "00:00", "09:30:15", "9.30", "9:30 pm", "12 am", "9:30PM"] {
            assert!(clock(text).is_some(), "{text}");
        }
        for text in
            ["25:00", "24:00", "9:60", "9:5", "noon", "13:00 pm", "930", "9", "", ":", "9:30:15:00", "-1:00"]
        {
            assert!(clock(text).is_none(), "{text}");
        }
    }

    #[test]
    fn noon_and_midnight_of_a_clock_of_twelve_hours_are_told_apart() {
        for (text, hour) in
            [("12:05 am", 0), ("12:05 pm", 12), ("1:05 pm", 13), ("11:05 am", 11), ("0:05", 0)]
        {
            assert_eq!(clock(text).map(|time| (time.hour(), time.minute())), Some((hour, 5)), "{text}");
        }
    }

    #[test]
    fn what_is_no_day_of_the_calendar_says_how_long_the_month_is() {
        for text in ["2025-02-31", "31.02.2025", "30/02/2025"] {
            assert_eq!(day(text), Err(DayFault::NotThere(date(2025, 2, 28))), "{text}");
        }
        for text in
            ["spring", "2026-04", "--", "", "2026-13-01", "2026-01-45", "1", "12", "9999999", "5 Foo 2025"]
        {
            assert_eq!(day(text), Err(DayFault::NoDay), "{text}");
        }
    }

    #[test]
    fn days_of_other_habits_are_told_as_they_should_be_written() {
        // ISO 8601-1 for the day; 45721 is the count of spreadsheets from 1899-12-30.
        let march = date(2025, 3, 5);
        assert_eq!(day("45721"), Err(DayFault::Counted(march)));
        assert_eq!(day("45721.5"), Err(DayFault::Counted(march)));
        assert_eq!(day("05.03.25"), Err(DayFault::Short(march, None)));
        assert_eq!(day("05/03/25"), Err(DayFault::Short(march, Some(date(2025, 5, 3)))));
        for text in ["5 Mar 2025", "Mar 5, 2025", "5-Mar-25", "5. M\u{e4}rz 2025", "March 5 2025"] {
            assert_eq!(day(text), Err(DayFault::Write(march)), "{text}");
        }
        assert_eq!(day("31 Feb 2025"), Err(DayFault::NotThere(date(2025, 2, 28))));
    }
}
